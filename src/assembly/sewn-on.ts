import { patchOutline, warpFrom } from '../bag/index.ts';
import type { Anchor, Bag, Four, Panel } from '../bag/types.ts';
import { plus, type Sym, seenFrom, sideBySide, symOf, ZERO } from '../material/index.ts';
import type { BagLaminates, Laminate, SewnLayers } from '../material/types.ts';
import { type BagMesh, flatArea } from '../mesh/types.ts';
import { type HeldStrip, heldStrips, type Quad, quadsOf } from '../panels/index.ts';
import { lengthInside, sharedArea } from './overlap.ts';

/** Stiffness of one triangle in the axes of its laminate. */
export interface Stiffness {
  readonly bending: Four;
  readonly inPlane: Four;
}
type Which = keyof Stiffness;

/** Cloth in its panel's frame: its laminate, where its warp lies, rad from x, and how many of it lie on one another, loose. */
interface Cloth {
  readonly stiffness: Stiffness;
  readonly warp: number;
  readonly layers: number;
}

/** A triangle under something stitched on: share of its area, and the directions of the border that crosses it, rad from x, with their weights (sum 1). */
interface Touched {
  readonly t: number;
  readonly share: number;
  readonly borders: readonly (readonly [along: number, weight: number])[];
}

/** Patches that are stitched flat all round. A single row, a rivet or a ring holds the strap at a line or a point: the panel beside it bends as it did. */
const FLAT: readonly Anchor['kind'][] = ['box', 'box with cross'];

/** Where a laminate's warp lies in its panel, rad counterclockwise from x. */
export const warpIn = (panel: Panel, lam: Laminate): number => warpFrom(panel.grain, lam.angle);

const four = (m: Sym): Four => [m[0], m[1], m[3], m[2]];
const seen = (c: Cloth, which: Which, axes: number): Sym => plus(ZERO, seenFrom(symOf(c.stiffness[which]), axes - c.warp), c.layers);

/** The cloth with the added one on its share, in the cloth's own axes. */
function covered(own: Cloth, added: Cloth, { share, borders }: Touched): Stiffness {
  const mean = (which: Which): Four => {
    let sum = ZERO;
    for (const [along, weight] of borders) {
      const alone = seen(own, which, along);
      sum = plus(sum, seenFrom(sideBySide(alone, plus(alone, seen(added, which, along)), share, which), own.warp - along), weight);
    }
    return four(sum);
  };
  return { bending: mean('bending'), inPlane: mean('inPlane') };
}

/**
 * Triangles that something is stitched to, and how stiff that makes them. A strap's end stitched down all round adds the strap's layers over its patch; a row
 * of topstitching adds the turned-back allowance between seam and row. The layers bend together but slide on one another (the loose sum), which is the
 * cautious end: stitches hold them at lines only, and a stack wholly in one piece would be up to four times as stiff for two equal layers.
 * A triangle that is covered in part counts as strips side by side along the border (side-by-side.ts): along it the added layers count by their share, across
 * it the bare cloth gives first. Bend-twist terms that come out of layers at odd angles are left out, as in the laminate itself. No mass: a strap's end
 * weighs on its patch already, and allowances weigh whether they are stitched down or not.
 * Parameters: bag; its mesh; laminates of the option, and what is sewn on, of one band.
 */
export function sewnOn(bag: Bag, mesh: BagMesh, laminates: BagLaminates, sewn: SewnLayers): ReadonlyMap<number, Stiffness> {
  const out = new Map<number, Stiffness>();
  const of = (all: BagLaminates, t: number): Laminate => all[mesh.triPanel[t]!]![mesh.triRegion[t]!]!;
  const cover = (under: Touched, added: Cloth): void => {
    const lam = of(laminates, under.t);
    out.set(under.t, covered({ stiffness: out.get(under.t) ?? lam, warp: warpIn(bag.panels[mesh.triPanel[under.t]!]!, lam), layers: 1 }, added, under));
  };
  bag.straps.forEach((strap, s) => {
    const stiffness = sewn.straps[s]!;
    // The strap's length runs up the panel.
    const added: Cloth = { stiffness, warp: Math.PI / 2 + stiffness.angle, layers: strap.layers };
    for (const anchor of strap.anchors) if (FLAT.includes(anchor.kind)) for (const under of underPatch(mesh, anchor)) cover(under, added);
  });
  for (const strip of heldStrips(bag).strips)
    for (const under of underStrip(bag, mesh, strip)) {
      const stiffness = of(sewn.allowances, under.t);
      // Folded back over the seam, its warp is mirrored in the seam.
      cover(under, { stiffness, warp: 2 * under.borders[0]![0] - warpIn(bag.panels[mesh.triPanel[under.t]!]!, stiffness), layers: 1 });
    }
  return out;
}

const MOST = 1 - 1e-12;
const LEAST = 1e-9;

function underPatch(mesh: BagMesh, anchor: Anchor): Touched[] {
  const corners = patchOutline(anchor);
  const [a, b, c, d] = corners;
  return trianglesOf(mesh, anchor.panel, [a![0], a![1], c![0], c![1]]).flatMap((t) => {
    const share = Math.min(MOST, sharedArea(corners, mesh.triFlat, 6 * t) / flatArea(mesh, t));
    if (share < LEAST) return [];
    const level = lengthInside(a!, b!, mesh.triFlat, 6 * t) + lengthInside(d!, c!, mesh.triFlat, 6 * t);
    const upright = lengthInside(a!, d!, mesh.triFlat, 6 * t) + lengthInside(b!, c!, mesh.triFlat, 6 * t);
    const of = level + upright > 0 ? level / (level + upright) : 1;
    return [
      {
        t,
        share,
        borders: (
          [
            [0, of],
            [Math.PI / 2, 1 - of],
          ] as const
        ).filter(([, weight]) => weight > 0),
      },
    ];
  });
}

/**
 * A strip is narrower than a triangle, and a row of triangles that hold much and little of it in turn would be too soft along it. So it is spread inward over the
 * height of a triangle, with its own area kept.
 */
const SPREAD = Math.sqrt(3) / 2;

function underStrip(bag: Bag, mesh: BagMesh, strip: HeldStrip): Touched[] {
  const own = quadsOf(bag, strip, strip.width);
  const wide = quadsOf(bag, strip, Math.max(strip.width, SPREAD * mesh.quality.meanEdge));
  const [xs, ys] = [0, 1].map((k) => [...own, ...wide].flat().map((p) => p[k]!));
  const near = trianglesOf(mesh, strip.panel, [Math.min(...xs!), Math.min(...ys!), Math.max(...xs!), Math.max(...ys!)]);
  const under = (quads: readonly Quad[]) => near.map((t) => ({ t, ...shared(quads, mesh, t) }));
  const total = (all: readonly { readonly area: number }[]): number => all.reduce((sum, u) => sum + u.area, 0);
  const [drawn, spread] = [under(own), under(wide)];
  // Round a curve tighter than the spread the wide strip folds over itself; then the narrow one has to do.
  const areas = total(spread) >= total(drawn) ? spread : drawn;
  const scale = total(drawn) / total(areas);
  return areas.flatMap(({ t, area, along }) => {
    const share = Math.min(MOST, (scale * area) / flatArea(mesh, t));
    return share < LEAST ? [] : [{ t, share, borders: [[along, 1] as const] }];
  });
}

/** Area of a triangle under quadrilaterals, m2, and their mean direction there, rad. */
function shared(quads: readonly Quad[], mesh: BagMesh, t: number): { area: number; along: number } {
  let [area, c, s] = [0, 0, 0];
  for (const quad of quads) {
    const common = sharedArea(quad, mesh.triFlat, 6 * t);
    // Twice the angle: a direction and its opposite are one.
    const twice = 2 * Math.atan2(quad[1][1] - quad[0][1], quad[1][0] - quad[0][0]);
    area += common;
    c += common * Math.cos(twice);
    s += common * Math.sin(twice);
  }
  return { area, along: Math.atan2(s, c) / 2 };
}

/** Triangles of a panel whose boxes meet the box [left, bottom, right, top], in order. */
function trianglesOf(mesh: BagMesh, panel: string, [left, bottom, right, top]: readonly [number, number, number, number]): number[] {
  const p = mesh.panelNames.indexOf(panel);
  const f = mesh.triFlat;
  const out: number[] = [];
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const q = 6 * t;
    if (
      mesh.triPanel[t] === p &&
      Math.max(f[q]!, f[q + 2]!, f[q + 4]!) > left &&
      Math.min(f[q]!, f[q + 2]!, f[q + 4]!) < right &&
      Math.max(f[q + 1]!, f[q + 3]!, f[q + 5]!) > bottom &&
      Math.min(f[q + 1]!, f[q + 3]!, f[q + 5]!) < top
    )
      out.push(t);
  }
  return out;
}
