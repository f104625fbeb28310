/** What is sewn on a bag, drawn on its cloth: rows of topstitching, the ends of straps, and what holds them. */
import type { BufferGeometry, Mesh, RawShaderMaterial } from 'three';
import { type Bag, type Drawn, type PanelPatch, pose, type Rgb } from '../core.ts';
import { type Band, bandOf } from './hem-bands.ts';
import { LineSet } from './line-set.ts';
import { Metal } from './metal.ts';
import { type Flat, OnCloth } from './on-cloth.ts';
import { CLOTH_GRAIN, type ClothLook } from './palette.ts';
import { FOLD_LINE, type LineLook, lineProgram, type SharedUniforms, threadLine } from './programs.ts';
import { litMesh, ROD_LOOK } from './straps.ts';
import { Trims } from './trims.ts';

interface StitchedRow {
  readonly panel: string;
  /** Panel frame, m. */ readonly line: readonly Flat[];
  /** m */ readonly stitch: number;
}

/** A strap's end on its panel: an upright rectangle about `at`, panel frame, m. */
export interface StrapEnd {
  readonly panel: string;
  readonly kind: 'box' | 'box with cross' | 'row' | 'rivet' | 'ring loop';
  readonly at: Flat;
  readonly width: number;
  readonly height: number;
  readonly look: ClothLook;
  /** Its strap is drawn hanging, and covers the patch itself. */ readonly covered: boolean;
}

/** A hem, a facing or a binding: its stretches of the panel's outline, and what it is cut from (null: the panel's own shell). */
export type HemEdge = NonNullable<Bag['finishes']>[number] & { readonly outline: Bag['panels'][number]['outline']; readonly cover: ClothLook | null };

export interface Sewn {
  readonly hems: readonly HemEdge[];
  readonly rows: readonly StitchedRow[];
  readonly ends: readonly StrapEnd[];
  /** A bag with members, hardware or closures, or null. */ readonly trimmed: Bag | null;
}

/** A drawn strap lies this far in front of the cloth (hanging-straps.ts); stitches and metal lie on it, m. */
const STRAP = 0.0025;
const ON_STRAP = 0.003;
/** Spacing of points along a row, m; stitches of a strap's end, m, and their distance from its edge. */
const STEP = 0.004;
const STITCH = 0.003;
const INSET = 0.0025;
const GRID = 5;
const ROUND = 16;
/** A turned-in band lies this far behind the cloth's middle, m. */
const BEHIND = 0.0014;

/** Points of a line no further apart than STEP, corners kept. */
function dense(line: readonly Flat[]): Flat[] {
  const out: Flat[] = line.length > 0 ? [line[0]] : [];
  line.slice(1).forEach((b, i) => {
    const a = line[i];
    const n = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / STEP));
    for (let k = 1; k <= n; k++) out.push([a[0] + ((b[0] - a[0]) * k) / n, a[1] + ((b[1] - a[1]) * k) / n]);
  });
  return out;
}

/** Lines of stitches that hold a strap's end. */
export function linesOf({ kind, at: [x, y], width, height }: StrapEnd): Flat[][] {
  if (kind === 'rivet') return [];
  const inset = Math.min(INSET, 0.15 * width, 0.15 * height);
  const [w, h] = [width / 2 - inset, height / 2 - inset];
  if (kind === 'row')
    return [
      [
        [x - w, y],
        [x + w, y],
      ],
    ];
  // The loop of a ring is sewn down below the ring.
  const top = kind === 'ring loop' ? 0 : h;
  const [a, b, c, d]: Flat[] = [
    [x - w, y - h],
    [x + w, y - h],
    [x + w, y + top],
    [x - w, y + top],
  ];
  const box = [[a, b, c, d, a]];
  return kind === 'box with cross' ? [...box, [a, c], [b, d]] : box;
}

/** Points and triangles of a piece that lies flat on the cloth. */
interface Piece {
  readonly points: Flat[];
  readonly tris: number[];
}

function rectangle({ at: [x, y], width, height }: StrapEnd): Piece {
  const points: Flat[] = [];
  const tris: number[] = [];
  for (let i = 0; i <= GRID; i++)
    for (let j = 0; j <= GRID; j++) {
      points.push([x + (i / GRID - 0.5) * width, y + (j / GRID - 0.5) * height]);
      const o = i * (GRID + 1) + j;
      if (i < GRID && j < GRID) tris.push(o, o + GRID + 1, o + GRID + 2, o, o + GRID + 2, o + 1);
    }
  return { points, tris };
}

/** A disc, or with an inner radius a ring. */
function round([x, y]: Flat, outer: number, inner: number): Piece {
  const points: Flat[] = [];
  const tris: number[] = [];
  for (let i = 0; i < ROUND; i++) {
    const a = (2 * Math.PI * i) / ROUND;
    for (const r of [inner, outer]) points.push([x + r * Math.cos(a), y + r * Math.sin(a)]);
    const [p, q] = [2 * i, 2 * ((i + 1) % ROUND)];
    tris.push(p, p + 1, q + 1, p, q + 1, q);
  }
  return { points, tris };
}

const darker = ([r, g, b]: Rgb): Rgb => [0.72 * r, 0.72 * g, 0.72 * b];

interface LaidPiece {
  readonly points: OnCloth;
  readonly patch: PanelPatch;
  readonly lift: number;
  readonly raw: Float32Array;
  readonly mesh: Mesh<BufferGeometry, RawShaderMaterial>;
}

interface LaidLine {
  readonly panel: number;
  readonly points: OnCloth;
  readonly lift: number;
  readonly raw: Float32Array;
  readonly lines: LineSet;
}

/** Of a bag that is shown, in its order of drawing. Follows the cloth with every `show`. */
export class Stitches {
  private readonly pieces: LaidPiece[] = [];
  private readonly lines: LaidLine[] = [];
  private readonly trims: Trims | null;
  private readonly metal: Metal | null;

  /** patches: the panels' own pictures; names: the panels' names by number; faces: what each panel is drawn with. */
  constructor(
    sewn: Sewn,
    patches: readonly PanelPatch[],
    names: readonly string[],
    faces: readonly ClothLook[],
    private readonly shared: SharedUniforms,
  ) {
    const patchOf = (panel: string): PanelPatch | undefined => patches.find((p) => names[p.panel] === panel);
    for (const row of sewn.rows) {
      const patch = patchOf(row.panel);
      if (patch) this.addLine(patch, row.line, threadLine(faces[patch.panel].face, row.stitch), 0);
    }
    for (const hem of sewn.hems) {
      const patch = patchOf(hem.panel);
      if (!patch) continue;
      const own = faces[patch.panel];
      const made = own.cloth === CLOTH_GRAIN && hem.leather ? { ...hem, ...hem.leather, cover: null } : hem;
      const band = made.width > 0 ? bandOf(made) : null;
      if (band) this.addHem(patch, made, band, own);
    }
    for (const end of sewn.ends) {
      const patch = patchOf(end.panel);
      if (!patch) continue;
      if (end.kind !== 'rivet' && !end.covered) this.addPiece(patch, rectangle(end), end.look, STRAP);
      for (const line of linesOf(end)) this.addLine(patch, line, threadLine(end.look.face, STITCH), ON_STRAP);
      if (end.kind === 'rivet') this.addPiece(patch, round(end.at, end.width / 2, 0), ROD_LOOK, ON_STRAP);
      if (end.kind === 'ring loop') {
        const r = end.width / 2 + 0.003;
        this.addPiece(patch, round([end.at[0], end.at[1] + end.height / 2], r, r - 0.0035), ROD_LOOK, ON_STRAP);
      }
    }
    this.metal = sewn.trimmed && new Metal(sewn.trimmed, patches, names, shared);
    this.trims = sewn.trimmed && new Trims(sewn.trimmed, patches, names, faces, shared);
  }

  private shown = true;
  private hidden: number | null = null;

  /** Leaves out what is sewn on one panel, by number; null: nothing. */
  hide(panel: number | null): void {
    this.hidden = panel;
    for (const { lines, panel: own } of this.lines) lines.mesh.visible = own !== panel;
    for (const { mesh, panel: own } of this.put) mesh.visible = own !== panel;
    this.solid = this.shown;
  }

  /** Members and metal. */
  private get put(): readonly { readonly panel: number; readonly mesh: Mesh }[] {
    return [...(this.trims?.meshes ?? []), ...(this.metal?.meshes ?? [])];
  }

  get meshes(): readonly { readonly mesh: Mesh; readonly order: number }[] {
    return [...[...this.pieces, ...this.put].map(({ mesh }) => ({ mesh, order: 3 })), ...this.lines.map(({ lines }) => ({ mesh: lines.mesh, order: 4 }))];
  }

  /** The band inside, in its own cloth; a binding outside as well; on the face the step of the fold and its row of stitches. */
  private addHem(patch: PanelPatch, hem: HemEdge, band: Band, own: ClothLook): void {
    const cloth = hem.cover ?? own;
    const bound = hem.finish === 'bound';
    this.addPiece(patch, band, cloth, -BEHIND);
    if (bound) this.addPiece(patch, band, { ...cloth, face: darker(cloth.face) }, BEHIND);
    const lift = bound ? ON_STRAP : 0;
    this.addLine(patch, band.fold, FOLD_LINE, lift);
    this.addLine(patch, band.row, threadLine(bound ? cloth.face : own.face, STITCH), lift);
  }

  private addLine(patch: PanelPatch, line: readonly Flat[], look: LineLook, lift: number): void {
    const all = dense(line);
    const points = new OnCloth(patch, all);
    if (points.count < 2) return;
    const verts = new Uint32Array(2 * (points.count - 1));
    const along = new Float32Array(verts.length);
    let run = 0;
    for (let i = 1; i < points.count; i++) {
      verts.set([i - 1, i], 2 * (i - 1));
      const step = Math.hypot(all[i][0] - all[i - 1][0], all[i][1] - all[i - 1][1]);
      along.set([run, run + step], 2 * (i - 1));
      run += step;
    }
    const lines = new LineSet(verts, along, lineProgram(look, this.shared));
    this.lines.push({ panel: patch.panel, points, lift, raw: new Float32Array(3 * points.count), lines });
  }

  private addPiece(on: PanelPatch, { points: flat, tris }: Piece, look: ClothLook, lift: number): void {
    const n = flat.length;
    const own: PanelPatch = {
      panel: on.panel,
      verts: Uint32Array.from({ length: n }, (_, i) => i),
      flat: Float32Array.from(flat.flat()),
      tris: Uint32Array.from(tris),
    };
    const mesh = litMesh(
      { position: new Float32Array(3 * n), normal: new Float32Array(3 * n), flat: own.flat, index: own.tris },
      { ...look, lining: look.face },
      this.shared,
    );
    this.pieces.push({ points: new OnCloth(on, flat), patch: own, lift, raw: new Float32Array(3 * n), mesh });
  }

  /** Follows the cloth; of: a panel as drawn, by number. */
  show(of: (panel: number) => Drawn): void {
    this.trims?.show(of);
    this.metal?.show(of);
    for (const { points, patch, lift, raw, mesh } of this.pieces) {
      const { position, normal } = of(patch.panel);
      points.place(position, normal, lift, raw);
      const to = mesh.geometry.attributes;
      pose(patch, raw, to.position.array as Float32Array, to.normal.array as Float32Array);
      to.position.needsUpdate = true;
      to.normal.needsUpdate = true;
    }
    for (const { panel, points, lift, raw, lines } of this.lines) {
      const { position, normal } = of(panel);
      points.place(position, normal, lift, raw);
      lines.show(raw);
    }
  }

  /** Cloth and metal hide what a map says; the threads stay. */
  set solid(shown: boolean) {
    this.shown = shown;
    for (const { mesh, patch } of this.pieces) mesh.visible = shown && patch.panel !== this.hidden;
  }
}
