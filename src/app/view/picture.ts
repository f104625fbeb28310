import { BufferAttribute, BufferGeometry, Mesh, type RawShaderMaterial, Scene } from 'three';
import { type BagMesh, bendOf, type Drawn, type PanelPatch, panelPatches, pose } from '../core.ts';
import type { DrawnClosure } from './closures.ts';
import { CutEdges } from './cut-edges.ts';
import { LineSet } from './line-set.ts';
import { freeEdges, outlineRuns, seamEdges } from './lines.ts';
import type { ClothLook } from './palette.ts';
import { DRAFTED_LINE, DRAFTED_ON_PAPER, lineProgram, POINTED_LINE, SEAM_LINE, type SharedUniforms, shadowProgram } from './programs.ts';
import { type Frame, frameOf } from './projection.ts';
import { shadowRing } from './shadow.ts';
import { type SolidShape, solidMesh } from './solids.ts';
import type { Sewn, Stitches } from './stitches.ts';
import { type Hanging, hangingMeshes, hangRibbon, heldUp, litMesh, type StrapLine } from './straps.ts';

/** What one bay shows: a mesh, how its panels look, and where they were drafted. */
export interface Subject {
  readonly mesh: BagMesh;
  /** 3n drafted positions, m. */ readonly drafted: ArrayLike<number>;
  /** Per panel. */ readonly looks: readonly ClothLook[];
  /** Per panel, m. */ readonly thickness: readonly number[];
  /** Of a bag that hangs. */ readonly hanging?: Hanging;
  /** Straps of a bag that stands, held up. */ readonly handles?: readonly StrapLine[];
  /** Rows of stitches and straps' ends on its cloth. */ readonly sewn?: Sewn;
  /** Where a bag that fell over lies, 3n: the view reaches that far. */ readonly fallen?: ArrayLike<number>;
  /** What holds it shut, where it has settled. */ readonly closures?: readonly DrawnClosure[];
  /** What it leans on or lies over. */ readonly solids?: readonly SolidShape[];
  /** Number of the panel that is left out of a cut-open view. */ readonly front?: number;
}

interface PanelParts {
  readonly patch: PanelPatch;
  readonly cloth: Mesh<BufferGeometry, RawShaderMaterial>;
}

/** One settled (or falling) bag as three objects. Positions change in place; a new mesh means a new picture. */
export class Picture {
  readonly scene = new Scene();
  /** What must be seen; and without the place where it fell to: the tape stands before that. */ readonly frame: Frame;
  readonly upright: Frame;
  /** Of the drafted bag, m. */ private readonly height: number;
  readonly parts: readonly PanelParts[];
  private readonly rim: { readonly verts: Uint32Array; readonly panel: Uint16Array };
  private readonly cut: CutEdges;
  private readonly seams: LineSet;
  private stitches: Stitches | null = null;
  private readonly straps: readonly Mesh<BufferGeometry, RawShaderMaterial>[];
  private gone = false;
  private readonly shadow: Mesh;
  private readonly ghost: LineSet;
  /** Where it is drawn now, 3n. */ private x: ArrayLike<number>;
  private marked: { readonly panel: string; readonly lines: LineSet } | null = null;

  constructor(
    readonly subject: Subject,
    readonly shared: SharedUniforms,
    changed: () => void,
  ) {
    const { mesh, drafted, looks } = subject;
    this.x = drafted;
    this.scene.matrixWorldAutoUpdate = false;
    const { hanging, fallen } = subject;
    const solids = subject.solids ?? [];
    const seen = [
      ...(subject.handles ?? []).map((s) => s.line),
      ...(hanging ? [...hanging.straps.map((s) => s.line), hanging.settled] : []),
      ...solids.map((s) => s.x),
    ];
    this.upright = frameOf(drafted, seen);
    this.frame = fallen ? frameOf(drafted, [...seen, fallen]) : this.upright;
    this.height = frameOf(drafted).height || 1;
    this.parts = panelPatches(mesh).map((patch) => this.addPanel(patch, looks[patch.panel]));
    this.rim = freeEdges(mesh);
    this.cut = new CutEdges(
      this.rim,
      this.parts.map((p) => p.patch),
      subject,
      shared,
    );
    for (const object of this.cut.meshes) this.add(object, 3);
    this.seams = new LineSet(seamEdges(mesh), null, lineProgram(SEAM_LINE, shared));
    this.add(this.seams.mesh, 4);
    const runs = outlineRuns(mesh, drafted);
    this.ghost = new LineSet(runs.verts, runs.along, lineProgram(DRAFTED_LINE, shared));
    this.ghost.show(drafted);
    this.add(this.ghost.mesh, 1);
    this.shadow = new Mesh(new BufferGeometry(), shadowProgram());
    this.add(this.shadow, 0);
    // What hangs touches no mat.
    this.shadow.visible = !hanging;
    for (const s of solids) this.add(solidMesh(s, shared), 2);
    const hung = hanging ? hangingMeshes(hanging, shared) : { straps: [], rods: [] };
    for (const mesh of [...hung.straps, ...hung.rods]) this.add(mesh, 2);
    for (const mesh of heldUp(subject.handles ?? [], shared)) this.add(mesh, 2);
    this.straps = hung.straps;
    this.show(drafted);
    if (subject.closures && subject.closures.length > 0) void this.addClosures(subject.closures, changed);
    if (subject.sewn && (subject.sewn.trimmed || subject.sewn.rows.length + subject.sewn.ends.length + subject.sewn.hems.length > 0))
      void this.addStitches(subject.sewn, changed);
  }

  /** They come after the first picture: many bags have none. */
  private async addClosures(closures: readonly DrawnClosure[], changed: () => void): Promise<void> {
    const { closureMeshes } = await import('./closures.ts');
    if (this.gone) return;
    for (const mesh of closureMeshes(closures, this.shared)) this.add(mesh, 3);
    changed();
  }

  /** Their program comes after the first picture: many bags have none. */
  private async addStitches(sewn: Sewn, changed: () => void): Promise<void> {
    const { Stitches } = await import('./stitches.ts');
    if (this.gone) return;
    const { mesh, looks } = this.subject;
    const patches = this.parts.map((p) => p.patch);
    this.stitches = new Stitches(sewn, patches, mesh.panelNames, looks, this.shared);
    for (const { mesh: object, order } of this.stitches.meshes) this.add(object, order);
    this.show(this.x);
    changed();
  }

  /** Takes an object into the picture; those of higher order are drawn later. */
  add(object: Mesh, order: number): void {
    object.renderOrder = order;
    // Every vertex goes through the oblique matrix; three's own culling knows nothing of it.
    object.frustumCulled = false;
    object.matrixAutoUpdate = false;
    this.scene.add(object);
  }

  private addPanel(patch: PanelPatch, look: ClothLook): PanelParts {
    const n = patch.verts.length;
    const cloth = litMesh({ position: new Float32Array(3 * n), normal: new Float32Array(3 * n), flat: patch.flat, index: patch.tris }, look, this.shared);
    this.add(cloth, 2);
    return { patch, cloth };
  }

  /** Puts the bag at welded positions x (3n, m). Mutates the buffers in place. */
  show(x: ArrayLike<number>): void {
    let rimZ = 0;
    for (const v of this.rim.verts) rimZ += x[3 * v + 2] / this.rim.verts.length;
    const { height } = this;
    for (const { patch, cloth } of this.parts) {
      const { position, normal, bend, below } = cloth.geometry.attributes;
      pose(patch, x, position.array as Float32Array, normal.array as Float32Array);
      bendOf(patch, position.array as Float32Array, normal.array as Float32Array, bend.array as Float32Array);
      const p = position.array;
      for (let i = 0; i < below.count; i++) below.array[i] = Math.min(1, Math.max(0, (rimZ - p[3 * i + 2]) / height));
      for (const a of [position, normal, bend, below]) a.needsUpdate = true;
    }
    this.cut.show((panel) => this.drawn(panel));
    this.x = x;
    this.seams.show(x);
    this.stitches?.show((panel) => this.drawn(panel));
    this.marked?.lines.show(x);
    const ring = shadowRing(x);
    const g = this.shadow.geometry;
    if (g.index && ring.index.length === g.index.count) {
      (g.attributes.position.array as Float32Array).set(ring.position);
      g.attributes.position.needsUpdate = true;
    } else {
      g.setAttribute('position', new BufferAttribute(ring.position, 3));
      g.setAttribute('dark', new BufferAttribute(ring.dark, 1));
      g.setIndex(new BufferAttribute(ring.index, 1));
    }
  }

  /** Puts the straps of a hung bag at other lines, in the order they came in. Mutates the buffers in place. */
  hang(straps: readonly StrapLine[]): void {
    straps.forEach((strap, i) => {
      if (this.straps[i]) hangRibbon(this.straps[i], strap);
    });
  }

  private drawn(panel: number): Drawn {
    const { position, normal } = this.parts.find((p) => p.patch.panel === panel)!.cloth.geometry.attributes;
    return { position: position.array, normal: normal.array };
  }

  /** On paper the drafted outline is in ink: yellow hardly shows there. */
  set onPaper(on: boolean) {
    this.ghost.mesh.material.uniforms.uColour.value.set(...(on ? DRAFTED_ON_PAPER : DRAFTED_LINE).colour);
  }

  set outlined(on: boolean) {
    this.ghost.mesh.visible = on;
  }

  /** Leaves the front out, so that what is inside can be seen. */
  set cutOpen(on: boolean) {
    const { front } = this.subject;
    if (front === undefined) return;
    for (const { patch, cloth } of this.parts) if (patch.panel === front) cloth.visible = !on;
    this.stitches?.hide(on ? front : null);
  }

  /** Straps' ends are drawn on cloth, and not over a map. */
  set asCloth(on: boolean) {
    if (this.stitches) this.stitches.solid = on;
  }

  /** The panel whose cloth is nearest to the viewer at a place on screen; project gives px, turn how far the bag is turned. */
  panelAt(at: readonly [number, number], project: (p: readonly [number, number, number]) => readonly [number, number] | null, turn: number): string | null {
    const { mesh } = this.subject;
    const n = mesh.vertexCount;
    const flat = new Float32Array(2 * n);
    const depth = new Float32Array(n);
    for (let v = 0; v < n; v++) {
      const p = [this.x[3 * v], this.x[3 * v + 1], this.x[3 * v + 2]] as const;
      const q = project(p);
      if (!q) return null;
      flat.set(q, 2 * v);
      depth[v] = Math.sin(turn) * p[0] + Math.cos(turn) * p[1];
    }
    let best: number | null = null;
    let nearest = Number.POSITIVE_INFINITY;
    for (let t = 0; t < mesh.triPanel.length; t++) {
      const [a, b, c] = [mesh.triVerts[3 * t], mesh.triVerts[3 * t + 1], mesh.triVerts[3 * t + 2]];
      const side = (i: number, j: number): number =>
        (flat[2 * j] - flat[2 * i]) * (at[1] - flat[2 * i + 1]) - (flat[2 * j + 1] - flat[2 * i + 1]) * (at[0] - flat[2 * i]);
      const [s, u, w] = [side(b, c), side(c, a), side(a, b)];
      const area = s + u + w;
      if (area === 0 || Math.min(s / area, u / area, w / area) < 0) continue;
      const z = (s * depth[a] + u * depth[b] + w * depth[c]) / area;
      if (z >= nearest) continue;
      nearest = z;
      best = mesh.triPanel[t];
    }
    return best === null ? null : mesh.panelNames[best];
  }

  /** Middle of a panel where it is drawn now, m; null for a stranger. */
  middleOf(panel: string): readonly [number, number, number] | null {
    const { mesh } = this.subject;
    const own = mesh.panelVerts[mesh.panelNames.indexOf(panel)];
    if (!own) return null;
    const sum = [0, 0, 0];
    for (const v of own.verts) for (let c = 0; c < 3; c++) sum[c] += this.x[3 * v + c] / own.verts.length;
    return [sum[0], sum[1], sum[2]];
  }

  /** An outline round the panel, so that it is told by a line and not by its colour alone. */
  private outline(panel: string | null): void {
    if (this.marked?.panel === panel) return;
    if (this.marked) {
      this.scene.remove(this.marked.lines.mesh);
      this.marked.lines.mesh.geometry.dispose();
      this.marked.lines.mesh.material.dispose();
    }
    this.marked = null;
    const { mesh } = this.subject;
    const edges = panel === null ? undefined : mesh.outlines[mesh.panelNames.indexOf(panel)];
    if (panel === null || !edges) return;
    const pairs = Object.values(edges).flatMap((e) => Array.from({ length: e.verts.length - 1 }, (_, i) => [e.verts[i], e.verts[i + 1]]).flat());
    const lines = new LineSet(Uint32Array.from(pairs), null, lineProgram(POINTED_LINE, this.shared));
    lines.show(this.x);
    this.add(lines.mesh, 5);
    this.marked = { panel, lines };
  }

  /** Brightens and outlines one panel by name, or none. */
  pointOut(panel: string | null): void {
    this.outline(panel);
    for (const { patch, cloth } of this.parts) cloth.material.uniforms.uGlow.value = this.subject.mesh.panelNames[patch.panel] === panel ? 1 : 0;
  }

  dispose(): void {
    this.gone = true;
    this.scene.traverse((object) => {
      if (object instanceof Mesh) {
        object.geometry.dispose();
        (object.material as RawShaderMaterial).dispose();
      }
    });
  }
}
