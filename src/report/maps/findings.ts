import type { Bag } from '../../bag/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import type { BandRun } from '../types.ts';
import { joinedBy, panelOf, placeOnPanel, placeOnSeam } from './place.ts';
import type { Scale } from './scale.ts';
import type { MapKind, SettledMaps } from './types.ts';
import { words } from './words.ts';

/** A place on the bag that its map points out. */
interface Mark {
  readonly vertex: number;
  readonly label: string;
}

/** One state's map in words. */
export interface Findings {
  readonly marks: readonly Mark[];
  /** In one line. */ readonly line: string;
  /** Every part with its figure. */ readonly parts: readonly string[];
}

const named = (name: string | null): string => (name === null ? words.other : words.thing(name));

/** What one map says of one settled state: the places to mark, one line, and a figure for every part. */
export function findingsOf(kind: MapKind, bag: Bag, mesh: BagMesh, maps: SettledMaps, scale: Scale, run: BandRun): Findings {
  const still = run.status === 'settled' ? '' : `; ${words.moving}`;
  if (kind === 'strain') {
    const { largest, byPanel } = maps.strain;
    const parts = byPanel.map((p) => words.part(mesh.panelNames[p.panel], scale.write(p.value)));
    if (largest.value < scale.floor) return { marks: [], line: words.everywhere(scale.write(largest.value)) + still, parts };
    const label = words.largest(scale.write(largest.value), placeOnPanel(bag, mesh, largest.panel, largest.vertex));
    const yarns = Math.max(...(run.strain?.parts ?? []).filter((p) => p.kind === 'panel').map((p) => p.strain));
    return {
      marks: [{ vertex: largest.vertex, label }],
      line: label + (Number.isFinite(yarns) ? words.yarns(scale.write(yarns)) : '') + still,
      parts,
    };
  }
  if (kind === 'seams') {
    const { largest, bySeam } = maps.seams;
    const joins = mesh.seamNames.map((_, seam) => joinedBy(mesh, seam).join(words.to));
    const name = (seam: number): string => {
      const [own, panels] = [mesh.seamNames[seam], joins[seam]];
      const onlyOne = joins.filter((j) => j === panels).length === 1;
      return /^[A-Z]\d?$/.test(own) && onlyOne ? words.seamOf(panels) : words.seam(own, panels);
    };
    if (!largest) return { marks: [], line: words.noSeams, parts: [] };
    const parts = bySeam.map((s) => words.part(name(s.seam), scale.write(s.value)));
    if (largest.value < scale.floor) return { marks: [], line: words.everywhere(scale.write(largest.value)) + still, parts };
    const label = words.largest(scale.write(largest.value), `${name(largest.seam)}, ${placeOnSeam(bag, mesh, largest)}`);
    return {
      marks: [{ vertex: largest.vertex, label }],
      line: label + still,
      parts,
    };
  }
  const { by, reach } = maps.gap;
  const told = by.map(({ name, touching, nearest }) => {
    const near = nearest && words.nearest(named(name), scale.write(nearest.gap), placeOnPanel(bag, mesh, panelOf(mesh, nearest.vertex), nearest.vertex));
    const touch = touching > 0 ? words.touchingPoints(touching, mesh.vertexCount, named(name)) : null;
    return { touch, near, mark: near && !touch ? { vertex: nearest!.vertex, label: near } : null, clear: words.clear(named(name), scale.write(reach)) };
  });
  return {
    marks: told.flatMap((t) => t.mark ?? []),
    line: told.map((t) => t.touch ?? t.near ?? t.clear).join('; ') + still,
    parts: told.flatMap((t) => [t.touch, t.near ?? t.clear].filter((w) => w !== null)),
  };
}
