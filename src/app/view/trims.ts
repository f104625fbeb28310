/** Cords, wires, boning, zips and frames along the cloth, as thick as they are. */
import type { BufferGeometry, Mesh, RawShaderMaterial } from 'three';
import { type Bag, type Drawn, type Member, memberFigures, type OutlineEdge, oklch, type PanelPatch, pointAt } from '../core.ts';
import { type Flat, OnCloth } from './on-cloth.ts';
import type { ClothLook } from './palette.ts';
import type { SharedUniforms } from './programs.ts';
import { litMesh, ROD_LOOK } from './straps.ts';

/** Spacing of points along a member, m; corners of its section. */
const STEP = 0.005;
const SIDES = 8;
/** Thickness of what is flat, m. */
const FLAT = 0.0012;

const METAL: readonly Member['kind'][] = ['spring wire', 'metal zip', 'metal frame'];
const ROUND: readonly Member['kind'][] = ['cotton cord', 'paper cord', 'plastic cord', 'spring wire', 'figures'];
/** Piping is covered in the shell, boning runs in a channel of it; the rest is bare. */
const COVERED: readonly Member['kind'][] = ['cotton cord', 'paper cord', 'plastic cord', 'plastic boning', 'spiral steel boning', 'webbing binding'];
/** Cords, which lie in the groove beside their seam or on the face, and not half in the cloth, where a coarse mesh would hide them. */
const CORDS: readonly Member['kind'][] = ['cotton cord', 'paper cord', 'plastic cord'];
/** A covered line is seen by its shade: its cloth is turned about it, and dips beside it. */
const SHADE = 0.84;
const shaded = (look: ClothLook): ClothLook => ({ ...look, face: look.face.map((v) => SHADE * v) as unknown as ClothLook['face'] });
const plain = (face: ClothLook['face']): ClothLook => ({ cloth: 0, face, lining: face, pitch: 0.001 });
const PLASTIC = plain(oklch(0.85, 0.01, 90));

interface Laid {
  readonly panel: number;
  readonly points: OnCloth;
  /** How far its middle lies from the stitched line: past the panel's edge, and off its face, m. */ readonly off: readonly [number, number];
  /** Half its breadth across the line in the cloth, and out of it, m. */ readonly half: readonly [number, number];
  readonly at: Float32Array;
  readonly ahead: Float32Array;
  readonly mesh: Mesh<BufferGeometry, RawShaderMaterial>;
}

/** Of a bag that is shown. Follows the cloth with every `show`. */
export class Trims {
  private readonly laid: Laid[] = [];

  /** patches, names, faces: as of Stitches. */
  constructor(bag: Bag, patches: readonly PanelPatch[], names: readonly string[], faces: readonly ClothLook[], shared: SharedUniforms) {
    for (const member of bag.members ?? []) {
      const { size } = memberFigures(member),
        half = [size / 2, ROUND.includes(member.kind) ? size / 2 : FLAT / 2] as const;
      const round = CORDS.includes(member.kind) ? size / 2 : 0;
      for (const { panel, line, edge } of linesOf(bag, member)) {
        const patch = patches.find((p) => names[p.panel] === panel);
        if (!patch || line.length < 2) continue;
        const points = new OnCloth(patch, line),
          n = SIDES * points.count,
          look = METAL.includes(member.kind) ? ROD_LOOK : COVERED.includes(member.kind) ? shaded(faces[patch.panel]!) : PLASTIC;
        const mesh = litMesh(
          {
            position: new Float32Array(3 * n),
            normal: new Float32Array(3 * n),
            // Cloth that is turned about it: its weave goes round.
            flat: Float32Array.from(
              { length: 2 * n },
              (_, i) => line[((i >> 1) / SIDES) | 0]![i % 2]! + (((i >> 1) % SIDES) * Math.PI * size) / SIDES / Math.SQRT2,
            ),
            index: tubeFaces(points.count),
          },
          { ...look, lining: look.face },
          shared,
        );
        // At an edge the cord touches the stitched line from outside, as far past the edge as off the face.
        const off = edge === 0 ? ([0, round] as const) : ([(edge * round) / Math.SQRT2, round / Math.SQRT2] as const);
        this.laid.push({ panel: patch.panel, points, off, half, at: new Float32Array(3 * points.count), ahead: new Float32Array(3 * points.count), mesh });
      }
    }
  }

  get meshes(): readonly { readonly panel: number; readonly mesh: Mesh }[] {
    return this.laid;
  }

  show(of: (panel: number) => Drawn): void {
    for (const { panel, points, off, half, at, ahead, mesh } of this.laid) {
      const { position, normal } = of(panel);
      points.place(position, normal, 0, at);
      points.place(position, normal, 1, ahead);
      const to = mesh.geometry.attributes;
      tube(at, ahead, off, half, to.position!.array as Float32Array, to.normal!.array as Float32Array);
      to.position!.needsUpdate = true;
      to.normal!.needsUpdate = true;
    }
  }
}

/** Flat points along every stretch and drawn line of a member; edge: on which hand of them the panel ends (1 right, -1 left), 0 of a line inside it. */
function linesOf(bag: Bag, member: Member): { readonly panel: string; readonly line: readonly Flat[]; readonly edge: number }[] {
  const runs = member.runs.map((run) => {
    const panel = bag.panels.find((p) => p.name === run.panel)!,
      edge: OutlineEdge = [...panel.outline, ...panel.holes.flat()].find((e) => e.name === run.edge)!,
      length = Math.hypot(edge.to[0] - edge.from[0], edge.to[1] - edge.from[1]) * (edge.kind === 'line' ? 1 : 1.6),
      n = Math.max(2, Math.ceil(((run.to - run.from) * length) / STEP));
    return {
      panel: run.panel,
      edge: Math.sign(run.to - run.from),
      line: Array.from({ length: n + 1 }, (_, i): Flat => pointAt(edge, run.from + ((run.to - run.from) * i) / n)),
    };
  });
  const drawn = (member.lines ?? []).map(({ panel, line }) => ({
    panel,
    edge: 0,
    line: bag.panels.find((p) => p.name === panel)!.lines.find((l) => l.name === line)!.points,
  }));
  return [...runs, ...drawn];
}

function tubeFaces(count: number): number[] {
  const out: number[] = [];
  for (let i = 0; i + 1 < count; i++)
    for (let k = 0; k < SIDES; k++) {
      const [a, b] = [SIDES * i + k, SIDES * i + ((k + 1) % SIDES)];
      out.push(a, b + SIDES, b, a, a + SIDES, b + SIDES);
    }
  return out;
}

/** Places and normals of a tube along the points `at`, its middle `past` to their right and `lift` off the cloth; `ahead`: the same points 1 m along the cloth's normal. */
function tube(
  at: Float32Array,
  ahead: Float32Array,
  [past, lift]: readonly [number, number],
  [across, out]: readonly [number, number],
  position: Float32Array,
  normal: Float32Array,
): void {
  const count = at.length / 3;
  for (let i = 0; i < count; i++) {
    const [p, q] = [3 * Math.max(0, i - 1), 3 * Math.min(count - 1, i + 1)],
      t = unit([at[q]! - at[p]!, at[q + 1]! - at[p + 1]!, at[q + 2]! - at[p + 2]!]),
      n = unit([ahead[3 * i]! - at[3 * i]!, ahead[3 * i + 1]! - at[3 * i + 1]!, ahead[3 * i + 2]! - at[3 * i + 2]!]),
      b = unit([t[1] * n[2] - t[2] * n[1], t[2] * n[0] - t[0] * n[2], t[0] * n[1] - t[1] * n[0]]);
    for (let k = 0; k < SIDES; k++) {
      const [c, s] = [Math.cos((2 * Math.PI * k) / SIDES), Math.sin((2 * Math.PI * k) / SIDES)],
        // Of an ellipse, square to its outline.
        m = unit([0, 1, 2].map((d) => (c / across) * b[d]! + (s / out) * n[d]!) as [number, number, number]);
      for (let d = 0; d < 3; d++) {
        position[3 * (SIDES * i + k) + d] = at[3 * i + d]! + (past + across * c) * b[d]! + (lift + out * s) * n[d]!;
        normal[3 * (SIDES * i + k) + d] = m[d]!;
      }
    }
  }
}

function unit(v: readonly [number, number, number]): [number, number, number] {
  const l = Math.hypot(...v) || 1;
  return [v[0] / l, v[1] / l, v[2] / l];
}
