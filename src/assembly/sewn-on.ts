import { patchOutline, warpFrom } from '../bag/index.ts';
import type { Anchor, Bag, Four, Panel } from '../bag/types.ts';
import { plus, type Sym, seenFrom, sideBySide, symOf, ZERO } from '../material/index.ts';
import type { BagLaminates, Laminate, SewnLayers } from '../material/types.ts';
import { type BagMesh, flatArea } from '../mesh/types.ts';
import { heldStrips } from '../panels/index.ts';
import { finished } from './finishes.ts';
import { insideSeams } from './inside-seams.ts';
import { lengthInside, sharedArea } from './overlap.ts';
import { pressedStrips } from './pressed-strips.ts';
import { LEAST, MOST, type Touched, trianglesOf, underStrip } from './under-strip.ts';

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

/** Patches that are stitched flat all round. A single row, a rivet or a ring holds the strap at a line or a point: the panel beside it bends as it did. */
const FLAT: readonly Anchor['kind'][] = ['box', 'box with cross'];

/** Where a laminate's warp lies in its panel, rad counterclockwise from x. */
export const warpIn = (panel: Panel, lam: Laminate): number => warpFrom(panel.grain, lam.angle);

const four = (m: Sym): Four => [m[0], m[1], m[3], m[2]];
const seen = (c: Cloth, which: Which, axes: number): Sym => plus(ZERO, seenFrom(symOf(c.stiffness[which]), axes - c.warp), c.layers);

/** The cloth with the added one on its share, in the cloth's own axes. */
const covered = (own: Cloth, added: Cloth, under: Touched): Stiffness => beside(own, under, (alone, which, along) => plus(alone, seen(added, which, along)));

/** The cloth with the other one in its place on that share. */
const mixed = (own: Cloth, other: Cloth, under: Touched): Stiffness => beside(own, under, (_, which, along) => seen(other, which, along));

/** The cloth and, on a share of it, what becomes of it there, in strips along the border. */
function beside(own: Cloth, { share, borders }: Touched, there: (alone: Sym, which: Which, along: number) => Sym): Stiffness {
  const mean = (which: Which): Four => {
    let sum = ZERO;
    for (const [along, weight] of borders) {
      const alone = seen(own, which, along);
      sum = plus(sum, seenFrom(sideBySide(alone, there(alone, which, along), share, which), own.warp - along), weight);
    }
    return four(sum);
  };
  return { bending: mean('bending'), inPlane: mean('inPlane') };
}

/**
 * Triangles that something is stitched to, and how stiff that makes them. A strap's end stitched down all round adds the strap's layers over its patch; a row
 * of topstitching adds the turned-back allowance between seam and row. The layers bend together but slide on one another (the loose sum), which is the
 * cautious end: stitches hold them at lines only, and a stack wholly in one piece would be up to four times as stiff for two equal layers.
 * An allowance that is pressed, or stands, adds to its panel along the seam alone (pressed-strips.ts).
 * Interfacings and boards that end inside their seams leave a strip beside them without (inside-seams.ts).
 * The finish of an open edge adds what is turned in, faced or bound (finishes.ts).
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
  for (const { under, cloth } of insideSeams(bag, mesh, sewn.inside)) {
    const panel = bag.panels[mesh.triPanel[under.t]!]!,
      lam = of(laminates, under.t);
    const whole: Cloth = { stiffness: out.get(under.t) ?? lam, warp: warpIn(panel, lam), layers: 1 };
    out.set(under.t, mixed(whole, { stiffness: cloth, warp: warpIn(panel, cloth), layers: 1 }, under));
  }
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
  for (const { touched, along } of pressedStrips(bag, mesh, sewn.allowances, (p, lam) => warpIn(bag.panels[p]!, lam)))
    for (const under of touched) {
      const direction = under.borders[0]![0];
      cover(under, { stiffness: { bending: [along(under.t, direction), 0, 0, 0], inPlane: [0, 0, 0, 0] }, warp: direction, layers: 1 });
    }
  for (const { touched, layers, turned, cloth } of finished(bag, mesh, sewn.allowances, sewn.finishes))
    for (const under of touched) {
      const stiffness = cloth(under.t),
        warp = warpIn(bag.panels[mesh.triPanel[under.t]!]!, stiffness);
      cover(under, { stiffness, warp: turned ? 2 * under.borders[0]![0] - warp : warp, layers });
    }
  return out;
}

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
