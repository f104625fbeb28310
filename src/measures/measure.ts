import type { PanelRole } from '../bag/types.ts';
import { standsOnFeet } from '../mesh/index.ts';
import { type BagMesh, PART_BASE } from '../mesh/types.ts';
import { toEnd, type Work } from '../numerics/index.ts';
import { largestCurvature } from './curvature.ts';
import { countFolds } from './folds.ts';
import { footprintKept } from './footprint.ts';
import { mouthGap } from './mouth.ts';
import { lowest, meanHeight, type Rim, rimHeight, rimOf, topEdgeDrop } from './rim.ts';
import { liesLevel, type PanelSheet, SHELL_ROLES, sheetsOf, WALL_ROLES, wallPart } from './sheet.ts';
import type { MeasureInput, Measures, PanelMeasures } from './types.ts';
import { enclosureOf, volumeKept } from './volume.ts';
import { type WallShape, wallShape } from './wall.ts';

/**
 * Everything read off one settled state: measures of the whole bag and of each panel (order of mesh.panelNames).
 * Formulas: rim.ts (heights, drop), wall.ts (lean, bulge), footprint.ts, mouth.ts, volume.ts, folds.ts, curvature.ts.
 * Heights count from the lowest point of the walls and base, so the table need not be known. Whatever does not apply is null:
 * a plain strip has no rim, no footprint, no volume; a held bag has no footprint, nor has one without a base (it rests on a seam, a tube's side or a
 * round bottom: what touches the table there spreads with the least give and says nothing); a hung one is judged by hung.ts alone.
 * Panel: height = drafted z extent (0 for a base), standNumber = height / overhang, heightKept = its own rim, else its mean level, settled over drafted.
 * Assumes finite positions, z up. Throws when the mesh and the bag disagree about panels. Mutates nothing.
 */
export const measure = (input: MeasureInput): Measured => toEnd(measuring(input));

/** What is read off one state: of the whole bag, and of each panel. */
export interface Measured {
  readonly measures: Measures;
  readonly panels: readonly PanelMeasures[];
  readonly hasBase: boolean;
}

/** The same in steps. */
export function* measuring(input: MeasureInput): Work<Measured> {
  const { bag, mesh, drafted, settled } = input;
  const sheets = sheetsOf(bag, mesh);
  const shell = shellVerts(sheets);
  const walls = new Map<PanelSheet, { part: PanelSheet; shape: WallShape }>();
  for (const s of sheets) {
    if (!WALL_ROLES.has(s.panel.role) || liesLevel(s, drafted)) continue;
    yield;
    const part = wallPart(s, mesh);
    walls.set(s, { part, shape: wallShape(part, drafted, settled) });
  }
  const rim = rimOf(bag, mesh, drafted);
  const shapes = [...walls.values()].map((w) => w.shape);
  const panels: PanelMeasures[] = [];
  for (const s of sheets) {
    yield;
    panels.push(panelMeasures(input, s, walls.get(s)?.shape ?? null, rim, shell));
  }
  yield;
  const hasBase = sheets.some((s) => s.panel.role === 'base' || s.triNumbers.some((t) => mesh.triPart[t] === PART_BASE));
  const hung = input.stance === 'hung';
  const draftedHeight = heightToKeep(input, rim);
  const stands = rim !== null && draftedHeight !== null;
  const volume = hung || rim === null ? null : volumeKept(enclosureOf(sheets), drafted, settled);
  yield;
  return {
    measures: {
      heightKept: stands ? rimHeight(rim, settled) / draftedHeight : null,
      rimHeight: stands ? rimHeight(rim, settled) : null,
      draftedHeight: stands ? draftedHeight : null,
      topEdgeDrop: stands ? topEdgeDrop(rim, drafted, settled) : null,
      wallLean: hung ? null : worst(shapes.map((w) => w.lean)),
      bulge: hung ? null : worst(panels.flatMap((q) => q.bulge ?? [])),
      footprintKept: input.stance === 'standing' && shell.length > 0 && hasBase ? footprintKept(drafted, settled, standsOnFeet(bag, mesh) ?? shell) : null,
      mouthGap: hung || rim === null ? null : mouthGap(bag, rim, drafted, settled),
      volumeKept: volume,
      folds: worst([...walls.values()].map(({ part, shape }) => countFolds(part, shape.deviation))),
      hangTilt: null,
      mouthSag: null,
      baseSag: null,
      dropMiss: null,
    },
    panels,
    hasBase,
  };
}

/** Mean height of the drafted rim, m; null of a hung bag, and of a rim drafted on the table (an opened-out piece), which has no height to keep. */
function heightToKeep({ stance, drafted }: Pick<MeasureInput, 'stance' | 'drafted'>, rim: Rim | null): number | null {
  if (rim === null || stance === 'hung') return null;
  const height = rimHeight(rim, drafted);
  return height > 0.001 ? height : null;
}

/** What a bag's heights are measured against, m, as `measure` has it: its drafted rim's height, or that of its tallest panel where no rim has one to keep. */
export function draftedHeightOf(input: Pick<MeasureInput, 'bag' | 'mesh' | 'drafted' | 'stance'>): number {
  const { bag, mesh, drafted } = input;
  return (
    heightToKeep(input, rimOf(bag, mesh, drafted)) ??
    Math.max(0, ...mesh.panelNames.map((name, p) => panelHeight(bag.panels.find((b) => b.name === name)?.role, drafted, mesh.panelVerts[p].verts)))
  );
}

/** Drafted z extent of a panel, m; 0 for a base. */
const panelHeight = (role: PanelRole | undefined, drafted: Float64Array, verts: ArrayLike<number>): number => (role === 'base' ? 0 : extent(drafted, verts));

function worst(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values);
}

function shellVerts(sheets: readonly PanelSheet[]): Uint32Array {
  const verts = new Set<number>();
  for (const s of sheets) if (SHELL_ROLES.has(s.panel.role)) for (const v of s.verts) verts.add(v);
  return Uint32Array.from([...verts].sort((a, b) => a - b));
}

function panelMeasures(input: MeasureInput, sheet: PanelSheet, wall: WallShape | null, rim: Rim | null, shell: Uint32Array): PanelMeasures {
  const { drafted, settled } = input;
  const height = panelHeight(sheet.panel.role, drafted, sheet.verts);
  const overhang = input.overhangs[sheet.index];
  const part = rim?.byPanel.get(sheet.panel.name) ?? { verts: sheet.verts, weights: sheet.area };
  const kept =
    wall === null || input.stance === 'hung'
      ? null
      : ratio(meanHeight(part, settled, lowest(settled, shell)), meanHeight(part, drafted, lowest(drafted, shell)));
  return {
    name: sheet.panel.name,
    massKg: input.panelMass[sheet.index],
    height,
    overhang,
    standNumber: height / overhang,
    heightKept: kept,
    lean: wall?.lean ?? null,
    // Gathered cloth waves on purpose: how its waves shift is no bulge.
    bulge: input.mesh.gathers?.panels.some((g) => g.panel === sheet.index) ? null : (wall?.bulge ?? null),
    curvature: largestCurvature(sheet, settled),
  };
}

function ratio(settled: number, drafted: number): number | null {
  return drafted > 0.001 ? settled / drafted : null;
}

/** z extent of the given vertices, m. */
function extent(x: Float64Array, verts: ArrayLike<number>): number {
  let high = -Infinity;
  for (let i = 0; i < verts.length; i++) high = Math.max(high, x[3 * verts[i] + 2]);
  return verts.length === 0 ? 0 : high - lowest(x, verts);
}

/**
 * Settled positions of the marks, m: name -> [x, y, z]. Formula: barycentric, sum_k w_k x_k over the corners of the mark's triangle.
 * Two panels may use one mark name; the second is then filed as `panel.name`.
 */
export function markPositions(mesh: BagMesh, x: Float64Array): Record<string, readonly [number, number, number]> {
  const out: Record<string, readonly [number, number, number]> = {};
  for (const mark of mesh.marks) {
    const at = [0, 1, 2].map((c) => mark.weights.reduce((s, w, k) => s + w * x[3 * mesh.triVerts[3 * mark.tri + k] + c], 0));
    const name = mark.name in out ? `${mesh.panelNames[mark.panel]}.${mark.name}` : mark.name;
    out[name] = [at[0], at[1], at[2]];
  }
  return out;
}
