import { pointAt } from '../bag/index.ts';
import type { Bag, EdgeRun, PanelRole, Seam } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { judgeBand } from '../report/index.ts';
import type { Result } from '../report/types.ts';
import type { Work } from '../solver/index.ts';
import { runBand } from './band-run.ts';
import { forward } from './progress.ts';
import { prepareScene } from './scene.ts';
import { type PreviewOptions, settlingBag } from './settle-bag.ts';

/** Panels whose seams with one another are the bag's upright corners. */
const WALLS: ReadonlySet<PanelRole> = new Set(['front', 'back', 'side', 'gusset', 'body']);
/** Of them those that are drawn as they stand: a gusset strip runs round the bag. */
const STANDS: ReadonlySet<PanelRole> = new Set(['front', 'back', 'side', 'body']);
/** Margins of the middle run at which pressing the corners may change the word: in trials it moved them by 1 to 3. Farther off it did not. */
const NEAR = { from: -2.5, to: 0.5 } as const;

/** The bag with every upright corner that is sewn plain, and of which nothing is stated, pressed to a crease; the bag itself where it has none. */
export function cornersPressed(bag: Bag): Bag {
  const seams = bag.seams.map((seam): Seam => (isCorner(bag, seam) ? { ...seam, pressed: 'creased' } : seam));
  return seams.some((seam, s) => seam !== bag.seams[s]) ? { ...bag, seams } : bag;
}

/** A plain or turned seam of two different walls that runs up the one or the other for at least half of its length. A seam that carries a bunch is no edge to press. */
function isCorner(bag: Bag, { type, hinge, pressed, gather, sides }: Seam): boolean {
  if ((type !== 'plain' && type !== 'turned') || hinge || pressed || gather !== null) return false;
  const panelOf = (run: EdgeRun) => bag.panels.find((p) => p.name === run.panel)!;
  const [a, b] = sides.map((side) => side.map(panelOf));
  if ([...a!, ...b!].some((p) => !WALLS.has(p.role)) || a!.some((p) => b!.includes(p))) return false;
  return sides.some((side) => {
    let [up, all] = [0, 0];
    for (const run of side) {
      const panel = panelOf(run);
      const edge = panel.outline.find((e) => e.name === run.edge) ?? panel.holes.flat().find((e) => e.name === run.edge)!;
      const [p, q] = [pointAt(edge, run.from), pointAt(edge, run.to)];
      all += libm.hypot(q[0] - p[0], q[1] - p[1]);
      if (STANDS.has(panel.role)) up += Math.abs(q[1] - p[1]);
    }
    return up >= all / 2;
  });
}

/** settlingBag, and where it is asked for and a standing bag is near its limit, the middle once more with its corners pressed. Apart, so that the page need not carry it. */
export function* settlingWithCorners(bag: Bag, o: PreviewOptions = {}): Work<Result> {
  const result = yield* settlingBag(bag, o);
  const middle = result.runs.find((r) => r.band === 'mid'),
    stands = bag.stances.find((s) => s.name === result.stance)?.kind === 'standing';
  if (!o.corners || !middle || !stands) return result;
  const { margin } = judgeBand(middle),
    pressed = cornersPressed(bag);
  if (!(margin >= NEAR.from && margin <= NEAR.to) || pressed === bag) return result;
  const told = forward(o.onProgress),
    before = result.runs.length;
  const run = yield* runBand(prepareScene(pressed, { ...o, band: 'mid' }), {
    skipNudge: o.skipNudge ?? false,
    everyNudge: o.everyNudge ?? false,
    told: (at) => told({ ...at, fraction: (before + at.fraction) / (before + 1) }),
    now: o.now ?? (() => 0),
    setup: 0,
  });
  const judged = judgeBand(run);
  return { ...result, corners: { word: judged.word, margin: judged.margin, heightKept: run.measures.heightKept } };
}
