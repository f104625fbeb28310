import { runsOverlap } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import { UnionFind } from '../numerics/index.ts';
import { placeKey, SewnPlaces, sideEnds } from './chains.ts';
import { type FindingList, millimetres, percent } from './findings.ts';
import { CUTTING_FRACTION, CUTTING_TOLERANCE } from './seams.ts';
import type { Draft, DraftSeam, SeamSide, SideRun } from './types.ts';

/** More ease than this without a gather stated cannot be worked in without pleats (common practice for woven cloth, 3-5 %). */
const MOST_EASE = 0.05;
/** A gather further than this from the ratio stated is a slip of the pen. */
const GATHER_SLACK = 0.03;

const nameOf = (draft: Draft, run: SideRun): { panel: string; edge: string } => ({
  panel: draft.panels[run.panel].name,
  edge: draft.panels[run.panel].edges[run.edge].name,
});
const sideText = (draft: Draft, side: SeamSide): string =>
  side.runs
    .map((r) => {
      const { panel, edge } = nameOf(draft, r);
      return `${panel}.${edge}`;
    })
    .join(' + ');

/** Both sides' lengths: over 3 mm or 1 % apart is flagged, over 5 % without a gather is a fault; a stated gather is compared with the drawn one. */
export function checkLengths(bag: Bag, draft: Draft, findings: FindingList): void {
  draft.seams.forEach((seam, s) => {
    const [a, b] = seam.sides;
    const apart = Math.abs(a.length - b.length);
    const share = seam.ratio - 1;
    const where = { ...nameOf(draft, seam.sides[seam.longer].runs[0]), seam: seam.name };
    const sides = `${sideText(draft, a)} is ${millimetres(a.length)}, ${sideText(draft, b)} is ${millimetres(b.length)}`;
    if (seam.bunches) {
      checkBunches(seam, where, sides, findings);
      return;
    }
    const stated = bag.seams[s].gather;
    if (stated !== null && stated > 1) {
      if (Math.abs(seam.ratio / stated - 1) > GATHER_SLACK)
        findings.warning({
          kind: 'gather',
          ...where,
          value: seam.ratio,
          figure: `ratio ${seam.ratio.toFixed(2)}`,
          text: `Seam ${seam.name} is to be gathered ${stated.toFixed(2)} to 1 but is drawn ${seam.ratio.toFixed(2)} to 1: ${sides}.`,
        });
      else
        findings.note({
          kind: 'gather',
          ...where,
          value: seam.ratio,
          figure: `ratio ${seam.ratio.toFixed(2)}`,
          text: `Seam ${seam.name} is gathered ${seam.ratio.toFixed(2)} to 1: ${sides}.`,
        });
      return;
    }
    // Under half a millimetre a percentage of a short seam says nothing.
    if (apart <= CUTTING_TOLERANCE && (share <= CUTTING_FRACTION || apart <= 0.0005)) return;
    const finding = {
      kind: 'mismatch',
      ...where,
      value: apart,
      figure: `${millimetres(apart)} (${percent(share)})`,
      text: `The sides of seam ${seam.name} differ by ${millimetres(apart)} (${percent(share)}): ${sides}.`,
    } as const;
    if (share > MOST_EASE) findings.fault(finding);
    else findings.warning(finding);
  });
}

/** Every bunch is named with its ratio as drawn; ratios that do not add up to the drawn lengths, and bunches that overlap, are flagged. */
function checkBunches(seam: DraftSeam, where: { panel: string; edge: string; seam: string }, sides: string, findings: FindingList): void {
  const wanted = seam.bunched ?? 1;
  const off = Math.abs(wanted - 1) > GATHER_SLACK;
  if (seam.overlaps)
    findings.fault({
      kind: 'gather',
      ...where,
      value: 1,
      figure: 'overlapping',
      text: `In seam ${seam.name} one gather begins before the one next to it ends.`,
    });
  for (const bunch of seam.bunches ?? []) {
    const between = `${bunch.names[0]} and ${bunch.names[1]}`;
    const held = [0, 1].map((side) => (bunch.to[side] - bunch.from[side]) * seam.sides[side].length).sort((p, q) => p - q);
    const finding = { kind: 'gather', ...where, value: bunch.drawn, figure: `ratio ${bunch.drawn.toFixed(2)}` } as const;
    if (off)
      findings.warning({
        ...finding,
        text: `Seam ${seam.name} is to be gathered ${bunch.stated.toFixed(2)} to 1 between ${between} but is drawn ${bunch.drawn.toFixed(2)} to 1 there: ${sides}, and the stated ratios ask for ${percent(Math.abs(wanted - 1))} ${wanted > 1 ? 'more' : 'less'} on the side without notches.`,
      });
    else
      findings.note({
        ...finding,
        text: `Seam ${seam.name} is gathered ${bunch.drawn.toFixed(2)} to 1 between ${between}: ${millimetres(held[1])} onto ${millimetres(held[0])}.`,
      });
  }
}

/** Chains: no run may end where another seam has sewn it to a later one than the next; corners of the two sides should meet. */
export function checkChains(_bag: Bag, draft: Draft, findings: FindingList): void {
  const sewn = new SewnPlaces();
  for (const seam of draft.seams) {
    const [a, b] = seam.sides.map((side) => sideEnds(draft.panels, side));
    sewn.join(a[0], b[0]);
    sewn.join(a[1], b[1]);
    // Matched corners inside the seam are sewn together as well.
    for (const [ua, ub] of seam.knots.slice(1, -1)) sewn.join(cornerKey(draft, seam.sides[0], ua), cornerKey(draft, seam.sides[1], ub));
  }
  for (const seam of draft.seams) {
    for (const side of seam.sides)
      for (let i = 0; i + 1 < side.runs.length; i++) {
        const [x, y] = [side.runs[i], side.runs[i + 1]];
        const end = placeKey(draft.panels, x.panel, x.edge, x.forward ? x.to : x.from);
        const start = placeKey(draft.panels, y.panel, y.edge, y.forward ? y.from : y.to);
        // Two panels may meet for the first time in this very seam (the two halves of a zip placket); the order is wrong only if other seams
        // have already sewn this run's end to another run of the side.
        const elsewhere = side.runs.some(
          (r, k) => k > i + 1 && [r.from, r.to].some((at) => sewn.find(placeKey(draft.panels, r.panel, r.edge, at)) === sewn.find(end)),
        );
        if (sewn.find(end) === sewn.find(start) || !elsewhere) continue;
        const [p, q] = [nameOf(draft, x), nameOf(draft, y)];
        findings.fault({
          kind: 'chain broken',
          ...p,
          seam: seam.name,
          value: i,
          figure: `place ${i + 1} of ${side.runs.length - 1}`,
          text: `In seam ${seam.name}, ${q.panel}.${q.edge} does not go on where ${p.panel}.${p.edge} ends: the order is wrong.`,
        });
      }
    checkMeeting(draft, seam, findings);
  }
}

/** Key of the corner that side has at fraction u. */
function cornerKey(draft: Draft, side: SeamSide, u: number): string {
  const run = side.runs.reduce((best, r) => (Math.abs(r.u1 - u) < Math.abs(best.u1 - u) ? r : best));
  return placeKey(draft.panels, run.panel, run.edge, run.forward ? run.to : run.from);
}

/** Corners of both sides that lie near each other without being matched: sewn as drawn they would sit beside each other. */
function checkMeeting(draft: Draft, seam: DraftSeam, findings: FindingList): void {
  const [a, b] = seam.sides;
  for (const x of a.runs.slice(0, -1)) {
    if (seam.knots.some(([ua]) => ua === x.u1)) continue;
    const near = b.runs.slice(0, -1).filter((y) => !seam.knots.some(([, ub]) => ub === y.u1) && Math.abs(y.u1 - x.u1) < 0.05);
    for (const y of near) {
      const apart = Math.abs(y.u1 - x.u1) * a.length;
      const [p, q] = [nameOf(draft, x), nameOf(draft, y)];
      findings.warning({
        kind: 'corners apart',
        ...p,
        seam: seam.name,
        value: apart,
        figure: millimetres(apart),
        text: `In seam ${seam.name} the end of ${p.panel}.${p.edge} and the end of ${q.panel}.${q.edge} miss each other by ${millimetres(apart)}.`,
      });
    }
  }
}

/** A ring of seams that turns the cloth over once: no way to sew it with the face out everywhere. Third layers may face either way. */
export function checkTwist(_bag: Bag, draft: Draft, findings: FindingList): void {
  const joined = new UnionFind(draft.panels.length);
  const uses = new Map<string, number>();
  for (const seam of draft.seams)
    for (const side of seam.sides) for (const run of side.runs) uses.set(`${run.panel}:${run.edge}`, (uses.get(`${run.panel}:${run.edge}`) ?? 0) + 1);
  for (const seam of draft.seams) {
    if (seam.sides.some((side) => side.runs.some((r) => (uses.get(`${r.panel}:${r.edge}`) ?? 0) > 1 && overlapsAnother(draft, seam, r)))) continue;
    for (const x of seam.sides[0].runs)
      for (const y of seam.sides[1].runs) {
        if (Math.min(x.u1, y.u1) - Math.max(x.u0, y.u0) < 1e-6) continue;
        if (!joined.join(x.panel, y.panel, seam.faceFlips)) {
          const [p, q] = [nameOf(draft, x), nameOf(draft, y)];
          findings.fault({
            kind: 'twisted',
            ...p,
            seam: seam.name,
            value: 1,
            figure: 'one half turn',
            text: `Seam ${seam.name} joins ${p.panel}.${p.edge} to ${q.panel}.${q.edge} with a half turn: the face of the cloth ends up inside. Turn its direction round.`,
          });
        }
      }
  }
}

function overlapsAnother(draft: Draft, seam: DraftSeam, run: SideRun): boolean {
  return draft.seams.some(
    (other) =>
      other !== seam &&
      other.sides.some((side) =>
        side.runs.some((r) => r.panel === run.panel && r.edge === run.edge && Math.min(r.to, run.to) - Math.max(r.from, run.from) > 1e-6),
      ),
  );
}

/** Two stretches that two seams join are sewn twice: one of the seams is a slip of the pen. */
export function checkTwice(_: Bag, draft: Draft, findings: FindingList): void {
  const meet = (a: SeamSide, b: SeamSide): boolean => a.runs.some((r) => b.runs.some((q) => runsOverlap(r, q)));
  draft.seams.forEach((seam, s) => {
    const [a, b] = seam.sides;
    const before = draft.seams.slice(0, s).find(({ sides: [p, q] }) => (meet(a, p) && meet(b, q)) || (meet(a, q) && meet(b, p)));
    if (!before) return;
    findings.fault({
      kind: 'sewn twice',
      ...nameOf(draft, a.runs[0]),
      seam: seam.name,
      value: a.length,
      figure: millimetres(a.length),
      text: `Seam ${seam.name} joins ${sideText(draft, a)} and ${sideText(draft, b)}, which seam ${before.name} has sewn together already.`,
    });
  });
}
