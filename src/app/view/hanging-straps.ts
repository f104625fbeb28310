import { type Bag, type BagMesh, type PanelPatch, panelPatches, pose, standingHandle } from '../core.ts';
import type { DrawnStrap } from '../line-up/solver-protocol.ts';
import { stackLook } from '../page/materials.ts';
import { type Flat, OnCloth } from './on-cloth.ts';
import type { Subject } from './picture.ts';
import type { Sewn } from './stitches.ts';
import type { StrapLine } from './straps.ts';

type Anchor = Bag['straps'][number]['anchors'][number];
type V3 = readonly [number, number, number];

/** How far the middle of a sewn-on end is drawn in front of its panel's middle surface, m; its face lies half a strap's thickness further. Cloth that bends under the pull must not swallow it. */
const IN_FRONT = 0.0015;

interface Faces {
  /** Level direction along the panel. */ readonly along: V3;
  /** Level direction out of its face. */ readonly out: V3;
}

/** Cloth no further than this from a strap's end says how the panel faces there, m. */
const NEAR = 0.03;

/** How a panel faces where a strap's end is sewn to it, from the normals of the triangles about it; one that lies level counts as one that faces front (-y). */
function facing({ triPanel, triVerts, triFlat, panelNames }: BagMesh, x: ArrayLike<number>, { panel, at }: Anchor): Faces {
  const own = panelNames.indexOf(panel);
  let [nx, ny] = [0, 0];
  for (let t = 0; t < triPanel.length; t++) {
    if (triPanel[t] !== own) continue;
    const off = Math.hypot(
      (triFlat[6 * t] + triFlat[6 * t + 2] + triFlat[6 * t + 4]) / 3 - at[0],
      (triFlat[6 * t + 1] + triFlat[6 * t + 3] + triFlat[6 * t + 5]) / 3 - at[1],
    );
    const weight = Math.exp(-((off / NEAR) ** 2));
    const [a, b, c] = [3 * triVerts[3 * t], 3 * triVerts[3 * t + 1], 3 * triVerts[3 * t + 2]];
    const [ux, uy, uz] = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
    const [vx, vy, vz] = [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]];
    nx += weight * (uy * vz - uz * vy);
    ny += weight * (uz * vx - ux * vz);
  }
  const l = Math.hypot(nx, ny);
  return l > 1e-12 ? { along: [-ny / l, nx / l, 0], out: [nx / l, ny / l, 0] } : { along: [1, 0, 0], out: [0, -1, 0] };
}

/**
 * The line from the lower edge of one patch to the lower edge of the other; the run's own ends in the patches' middles. lying: how many of its points at either end
 * lie on the cloth.
 */
function sewnLine(line: ArrayLike<number>, ends: readonly [Faces, Faces], heights: readonly [number, number], lying: readonly [number, number]): Float64Array {
  const n = line.length / 3;
  const out = new Float64Array(line.length + 6);
  for (let i = 0; i < line.length; i++) out[3 + i] = line[i];
  for (const end of [0, 1] as const) {
    const [middle, edge, foot] = end === 0 ? [1, 2, 0] : [n, n - 1, n + 1];
    const down = [0, 1, 2].map((c) => out[3 * middle + c] - out[3 * edge + c]);
    const reach = heights[end] / 2 / (Math.hypot(...down) || 1);
    for (let c = 0; c < 3; c++) {
      out[3 * foot + c] = out[3 * middle + c] + reach * down[c];
      for (let k = 0; k <= lying[end]; k++) out[3 * (end === 0 ? k : n + 1 - k) + c] += IN_FRONT * ends[end].out[c];
    }
  }
  return out;
}

/** A strap hangs in the picture: two ends, and points between them. */
const isDrawn = ({ line }: { readonly line: ArrayLike<number> }): boolean => line.length >= 12;

/** Carrying straps as the picture wants them, of a bag whose mesh points are at x (3n, m): settled, or in motion. */
function strapsOf(
  bag: Bag,
  mesh: BagMesh,
  x: ArrayLike<number>,
  straps: readonly (DrawnStrap & { readonly lying?: readonly [number, number] })[],
): StrapLine[] {
  return straps.flatMap(({ name, width, line, lying = [2, 2] }): StrapLine[] => {
    const strap = bag.straps.find((s) => s.name === name);
    if (!strap || !isDrawn({ line })) return [];
    const [one, two] = strap.anchors;
    const ends = [facing(mesh, x, one), facing(mesh, x, two)] as const;
    const look = stackLook(bag, strap.stack);
    return [{ line: sewnLine(line, ends, [one.height, two.height], lying), width, across: [ends[0].along, ends[1].along], look }];
  });
}

/** The same where a fall has carried them: lines in the straps' order. */
export const movedStraps = (bag: Bag, mesh: BagMesh, x: ArrayLike<number>, straps: readonly DrawnStrap[], lines: readonly ArrayLike<number>[]): StrapLine[] =>
  strapsOf(
    bag,
    mesh,
    x,
    straps.map((s, i) => ({ ...s, line: lines[i] })),
  );

/** A handle sewn on below the mouth lies against the wall up to the rim, if that is no further off than this, m. */
const UP_TO_RIM = 0.08;

/** How high a panel's cloth reaches straight above a point of it, panel frame, m. */
function rimAbove({ flat, tris }: PanelPatch, [x, y]: Flat): number {
  let top = y;
  for (let i = 0; i < tris.length; i++) {
    const [a, b] = [2 * tris[i], 2 * tris[i % 3 === 2 ? i - 2 : i + 1]];
    if ((flat[a] - x) * (flat[b] - x) > 0 || flat[a] === flat[b]) continue;
    top = Math.max(top, flat[a + 1] + ((x - flat[a]) / (flat[b] - flat[a])) * (flat[b + 1] - flat[a + 1]));
  }
  return top;
}

/** A strap's end along its panel: the patch's middle and upper edge, and on to the rim, m; where they lie with the mesh at x, 3 each. */
function upTheWall(mesh: BagMesh, x: ArrayLike<number>, { panel, at: [u, v], height }: Anchor): { readonly points: number[]; readonly climb: number } | null {
  const patch = panelPatches(mesh).find((p) => mesh.panelNames[p.panel] === panel);
  if (!patch) return null;
  const edge = v + height / 2;
  const rim = rimAbove(patch, [u, edge]) - edge;
  const climb = rim <= UP_TO_RIM ? rim : 0;
  const steps = Math.ceil(climb / 0.01);
  const flat: Flat[] = [[u, v], [u, edge], ...Array.from({ length: steps }, (_, i): Flat => [u, edge + (climb * (i + 1)) / steps])];
  const [position, normal, out] = [new Float32Array(3 * patch.verts.length), new Float32Array(3 * patch.verts.length), new Float32Array(3 * flat.length)];
  pose(patch, x, position, normal);
  new OnCloth(patch, flat).place(position, normal, 0, out);
  return { points: Array.from(out), climb };
}

/** Points of a line in the other order, 3 each. */
const turned = (points: readonly number[]): number[] =>
  Array.from({ length: points.length / 3 }, (_, i) => points.slice(points.length - 3 * i - 3, points.length - 3 * i)).flat();

/**
 * The subject of a bag that stands, with its straps held up over their ends as in the hand of whoever looks: how they would fall is not worked out, and
 * half of each one's weight lies on either patch. x: where the cloth lies.
 */
export function withHandlesUp(subject: Subject, bag: Bag, x: ArrayLike<number>): Subject {
  const { mesh } = subject;
  const lines = bag.straps.flatMap(({ name, width, length, anchors }) => {
    const [one, two] = anchors.map((a) => upTheWall(mesh, x, a));
    if (!one || !two) return [];
    const arch = standingHandle(one.points.slice(-3), two.points.slice(-3), length - one.climb - two.climb);
    const line = [...one.points.slice(0, -3), ...arch, ...turned(two.points.slice(0, -3))];
    return [{ name, width, line, lying: [one.points.length / 3, two.points.length / 3] as const }];
  });
  return lines.length === 0
    ? subject
    : {
        ...subject,
        handles: strapsOf(bag, mesh, x, lines),
        sewn: {
          ...sewnOf(
            bag,
            lines.map((l) => l.name),
            '',
          ),
          trimmed: subject.sewn?.trimmed ?? null,
        },
      };
}

/** The subject with what it hangs from and by. Parameters: stance by name; x and straps where they are now, which is also how far the view reaches. */
export function hungSubject(subject: Subject, bag: Bag, stance: string, x: ArrayLike<number>, straps: readonly DrawnStrap[]): Subject {
  const on = bag.stances.find((s) => s.name === stance);
  const carrying = straps.filter(isDrawn).map((s) => s.name);
  if (on?.kind !== 'hung' || carrying.length === 0) return subject;
  return {
    ...subject,
    hanging: { diameter: on.diameter, inHands: on.from === 'hands', settled: x, straps: strapsOf(bag, subject.mesh, x, straps) },
    sewn: sewnOf(bag, carrying, stance),
  };
}

/** Rows of topstitching, straps' ends and metal as the picture wants them. carrying: names of the straps that are drawn as they hang. */
export function sewnOf(bag: Bag, carrying: readonly string[], stance: string): Sewn {
  const leftOut = bag.stances.find((s) => s.name === stance)?.closed === 'left out';
  const trimmed: Bag = leftOut ? { ...bag, closures: [] } : bag;
  return {
    rows: bag.topstitch,
    trimmed: trimmed.members || trimmed.hardware || (trimmed.closures ?? []).length > 0 ? trimmed : null,
    hems: (bag.finishes ?? [])
      .filter((f) => f.width > 0)
      .map((f) => ({ ...f, outline: bag.panels.find((p) => p.name === f.panel)!.outline, cover: f.stack === null ? null : stackLook(bag, f.stack) })),
    ends: bag.straps.flatMap((s) => s.anchors.map((a) => ({ ...a, look: stackLook(bag, s.stack), covered: carrying.includes(s.name) }))),
  };
}
