/** Sheets held all round, for the plate and membrane rows: rectangles and discs, loaded by their own weight. */
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { settle } from '../../src/solver/index.ts';
import type { Model } from '../../src/solver/types.ts';
import { type MeshKind, type Sheet, sheetModel, swatchBag } from '../../src/swatch/sheet.ts';
import { cutStrip } from '../../src/swatch/strip.ts';

export interface Held {
  readonly model: Model;
  /** 2n flat, m */ readonly flat: Float64Array;
  /** Vertex nearest to the middle. */ readonly middle: number;
}

function finish(model: Model, flat: Float64Array, rim: ReadonlySet<number>, at: readonly [number, number]): Held {
  for (const v of rim) model.held[v] = 1;
  let middle = 0;
  const far = (v: number) => Math.hypot(flat[2 * v] - at[0], flat[2 * v + 1] - at[1]);
  for (let v = 1; v < model.vertexCount; v++) if (far(v) < far(middle)) middle = v;
  return { model, flat, middle };
}

/** Rectangle a (along y) by b (along x), all edges held, in slope too when clamped. */
export function rectangle(sheet: Sheet, a: number, b: number, mesh: number, kind: MeshKind, clamped: boolean): Held {
  const s = cutStrip({ sheet, length: b, width: a, mesh, kind });
  const outward = { near: [0, -1, 0], far: [0, 1, 0], first: [-1, 0, 0], last: [1, 0, 0] } as const;
  const edges = Object.entries(s.mesh.outlines[0]).map(([name, e]) => ({ verts: e.verts, direction: () => outward[name as keyof typeof outward] }));
  return finish(sheetModel(s.mesh, sheet, 0, clamped ? edges : []), s.flat, new Set(edges.flatMap((e) => [...e.verts])), [b / 2, a / 2]);
}

/** Disc of radius a, its rim held, in slope too when clamped. */
export function disc(sheet: Sheet, a: number, mesh: number, clamped: boolean): Held {
  const bag = swatchBag([
    { name: 'one', kind: 'arc', from: [a, 0], to: [-a, 0], via: [0, a] },
    { name: 'two', kind: 'arc', from: [-a, 0], to: [a, 0], via: [0, -a] },
  ]);
  const m = meshPanels(bag, draftPanels(bag), { edgeLength: mesh });
  const flat = new Float64Array(2 * m.vertexCount);
  m.panelVerts[0].verts.forEach((v, i) => {
    flat.set(m.panelVerts[0].flat.subarray(2 * i, 2 * i + 2), 2 * v);
  });
  const rim = new Set(Object.values(m.outlines[0]).flatMap((e) => [...e.verts]));
  const direction = (p: number, q: number) => {
    const [x, y] = [flat[2 * p] + flat[2 * q], flat[2 * p + 1] + flat[2 * q + 1]];
    const l = Math.hypot(x, y);
    return [x / l, y / l, 0] as const;
  };
  return finish(sheetModel(m, sheet, 0, clamped ? [{ verts: Uint32Array.from(rim), direction }] : []), flat, rim, [0, 0]);
}

/** Sag of the middle at rest, m. `point`: a further mass there, kg. */
export function sag(held: Held, point = 0): { readonly sag: number; readonly status: string; readonly residual: number; readonly vertices: number } {
  const { model, flat, middle } = held;
  const mass = model.mass.slice();
  mass[middle] += point;
  const x = Float64Array.from({ length: 3 * model.vertexCount }, (_, i) => (i % 3 === 2 ? 0 : flat[2 * Math.floor(i / 3) + (i % 3)]));
  const r = settle({ ...model, mass }, x);
  return { sag: -r.x[3 * middle + 2], status: r.status, residual: r.residual, vertices: model.vertexCount };
}
