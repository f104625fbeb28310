import type { Model } from '../../types.ts';

/** The sheet's edges, each once, in the order in which its triangles name them. */
export interface SheetEdges {
  /** 2E */ readonly edges: Uint32Array;
  /** n: 1 for a corner of some triangle; points of straps and of rigid bodies are none. */ readonly inSheet: Uint8Array;
}

export function edgesOf({ triVerts: tri, vertexCount: n }: Model): SheetEdges {
  const seen = new Set<number>(),
    edges: number[] = [],
    inSheet = new Uint8Array(n);
  for (let t = 0; t < tri.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const a = tri[t + k]!,
        b = tri[t + ((k + 1) % 3)]!,
        key = Math.min(a, b) * n + Math.max(a, b);
      if (!seen.has(key)) edges.push(a, b);
      seen.add(key);
      inSheet[a] = 1;
    }
  return { edges: Uint32Array.from(edges), inSheet };
}
