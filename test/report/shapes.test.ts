import { validateBytes } from 'gltf-validator';
import { describe, expect, test } from 'vitest';
import { parseBag, templates } from '../../src/bag/index.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { meshObj } from '../../src/report/index.ts';
import { bagGlb, bagStl } from '../../src/report/shapes.ts';
import { prepare } from '../../src/run/index.ts';

/** A tube sewn to itself, panels with regions, gathers and a turned grain among them. The start shape stands in for a settled one: the same mesh. */
const bags = ['bucket', 'drawstring-pouch', 'gathered-tote', 'satchel', 'backpack'].map((name) => {
  const bag = parseBag(templates().find((t) => t.name === name)!.text);
  const { mesh, start } = prepare(bag, { edgeLength: 0.03 });
  return { name, bag, mesh, x: start };
});

interface Gltf {
  readonly nodes: readonly { readonly name: string; readonly mesh?: number; readonly children?: readonly number[] }[];
  readonly meshes: readonly { readonly primitives: readonly { readonly attributes: Record<string, number>; readonly indices: number }[] }[];
  readonly accessors: readonly {
    readonly count: number;
    readonly min?: readonly number[];
    readonly max?: readonly number[];
    readonly bufferView: number;
    readonly byteOffset?: number;
  }[];
  readonly bufferViews: readonly { readonly byteOffset?: number; readonly byteLength: number; readonly byteStride?: number }[];
}

/** The JSON chunk of a GLB and its binary chunk. */
function chunks(glb: Uint8Array): { json: Gltf; bin: DataView } {
  const view = new DataView(glb.buffer, glb.byteOffset, glb.byteLength);
  const long = view.getUint32(12, true);
  const at = 20 + long + 8;
  return { json: JSON.parse(new TextDecoder().decode(glb.subarray(20, 20 + long))), bin: new DataView(glb.buffer, glb.byteOffset + at, glb.byteLength - at) };
}

/** Numbers of an accessor of floats, `size` each. */
function floats({ json, bin }: ReturnType<typeof chunks>, accessor: number, size: number): number[] {
  const a = json.accessors[accessor]!;
  const v = json.bufferViews[a.bufferView]!;
  const stride = v.byteStride ?? 4 * size;
  return Array.from({ length: a.count * size }, (_, i) =>
    bin.getFloat32((v.byteOffset ?? 0) + (a.byteOffset ?? 0) + stride * Math.floor(i / size) + 4 * (i % size), true),
  );
}

describe('glTF', () => {
  for (const { name, bag, mesh, x } of bags)
    test(`${name}: the Khronos validator finds 0 errors, 0 warnings; panels are nodes; y is up; every triangle once; a metre on the cloth is a metre of texture`, async () => {
      const glb = await bagGlb(bag, bag.options[0]!.name, mesh, x);
      const { issues } = await validateBytes(glb);
      expect([issues.numErrors, issues.numWarnings], JSON.stringify(issues.messages.slice(0, 5))).toEqual([0, 0]);
      const file = chunks(glb);
      const { json } = file;
      const panels = json.nodes.filter((n) => n.mesh !== undefined);
      expect(panels.map((n) => n.name)).toEqual(bag.panels.map((p) => p.name));
      const triangles = json.meshes.flatMap((m) => m.primitives.map((p) => json.accessors[p.indices]!.count / 3)).reduce((s, c) => s + c, 0);
      expect(triangles).toBe(mesh.triPanel.length);
      const high = Math.max(...json.meshes.flatMap((m) => m.primitives.map((p) => json.accessors[p.attributes['POSITION']!]!.max![1]!)));
      let top = Number.NEGATIVE_INFINITY;
      for (let v = 2; v < x.length; v += 3) top = Math.max(top, x[v]!);
      expect(Math.abs(high - top), 'm, height in y; float32').toBeLessThan(1e-6);
      // The box of the places on the cloth is that of the drawn panel, its grain upright.
      const draft = draftPanels(bag);
      bag.panels.forEach((panel, p) => {
        const uv = floats(file, json.meshes[panels[p]!.mesh!]!.primitives[0]!.attributes['TEXCOORD_0']!, 2);
        const [u, v] = [uv.filter((_, i) => i % 2 === 0), uv.filter((_, i) => i % 2 === 1)];
        const [x0, y0, x1, y1] = draft.panels[p]!.bounds;
        const across = Math.abs(Math.sin(panel.grain)) > 0.5;
        const size = across ? [y1 - y0, x1 - x0] : [x1 - x0, y1 - y0];
        expect(Math.max(...u) - Math.min(...u), `${panel.name} across the grain`).toBeCloseTo(size[0]!, 3);
        expect(Math.max(...v) - Math.min(...v), `${panel.name} along the grain`).toBeCloseTo(size[1]!, 3);
        const n = floats(file, json.meshes[panels[p]!.mesh!]!.primitives[0]!.attributes['NORMAL']!, 3);
        for (let i = 0; i < n.length; i += 3) expect(Math.hypot(n[i]!, n[i + 1]!, n[i + 2]!)).toBeCloseTo(1, 5);
      });
    });

  test('same bag, same bytes', async () => {
    const { bag, mesh, x } = bags[0]!;
    const [a, b] = [await bagGlb(bag, bag.options[0]!.name, mesh, x), await bagGlb(bag, bag.options[0]!.name, mesh, x)];
    expect(a.join()).toBe(b.join());
  });
});

test('STL: as many facets as triangles, millimetres, and the area of the surface to 1e-5', () => {
  for (const { name, mesh, x } of bags) {
    const stl = bagStl(mesh, x);
    const view = new DataView(stl.buffer);
    const count = view.getUint32(80, true);
    expect(count, name).toBe(mesh.triPanel.length);
    expect(stl.length, name).toBe(84 + 50 * count);
    const area = (p: (i: number, k: number) => number): number => {
      const d = (i: number, k: number): number => p(i, k) - p(0, k);
      return Math.hypot(d(1, 1) * d(2, 2) - d(1, 2) * d(2, 1), d(1, 2) * d(2, 0) - d(1, 0) * d(2, 2), d(1, 0) * d(2, 1) - d(1, 1) * d(2, 0)) / 2;
    };
    let [read, own] = [0, 0];
    for (let t = 0; t < count; t++) {
      read += area((i, k) => view.getFloat32(84 + 50 * t + 12 + 12 * i + 4 * k, true));
      own += area((i, k) => 1000 * x[3 * mesh.triVerts[3 * t + i]! + k]!);
    }
    expect(Math.abs(read / own - 1), `${name}: ${read} for ${own} mm2`).toBeLessThan(1e-5);
  }
});

test('OBJ: every corner has its place on the cloth; triangles on the cloth have the area of the cut panels', () => {
  for (const { name, bag, mesh, x } of bags) {
    const lines = meshObj(mesh, x, name, bag).split('\n');
    const vt = lines.filter((l) => l.startsWith('vt ')).map((l) => l.split(' ').slice(1).map(Number));
    const faces = lines
      .filter((l) => l.startsWith('f '))
      .map((l) =>
        l
          .split(' ')
          .slice(1)
          .map((c) => c.split('/').map(Number)),
      );
    expect(faces.length, name).toBe(mesh.triPanel.length);
    const area = faces.reduce((sum, f) => {
      const [a, b, c] = f.map(([, t]) => vt[t! - 1]!);
      return sum + ((b![0]! - a![0]!) * (c![1]! - a![1]!) - (b![1]! - a![1]!) * (c![0]! - a![0]!)) / 2;
    }, 0);
    let flat = 0;
    for (let t = 0; t < mesh.triPanel.length; t++) {
      const q = (i: number): number => mesh.triFlat[6 * t + i]!;
      flat += ((q(2) - q(0)) * (q(5) - q(1)) - (q(3) - q(1)) * (q(4) - q(0))) / 2;
    }
    expect(Math.abs(area / flat - 1), `${name}: ${area} for ${flat} m2`).toBeLessThan(1e-5);
  }
});
