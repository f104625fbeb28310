import type { Bag, Seam } from '../bag/types.ts';
import { matchBunches } from './bunches.ts';
import { chainDirection, type FoundRun, findRuns, isHoop, layOut, placeKey, SewnPlaces, sideEnds } from './chains.ts';
import type { DraftPanel, DraftSeam, SeamSide } from './types.ts';

/** A mismatch a cutter lets pass: corners closer than this are meant to meet. 3 mm or 1 % of the seam (common practice). */
export const CUTTING_TOLERANCE = 0.003;
export const CUTTING_FRACTION = 0.01;

/**
 * Every seam as two matched sides.
 * Direction, when not given: two panels cut face up and sewn face out meet with their outlines running against each other, so side b
 * is walked against side a. Chains of several panels are put in order by the corners that other seams have already joined, so seams
 * of single edges are resolved first. A panel sewn on as a third layer (a divider, piping) has no outside: it is taken face up or face
 * down, whichever keeps its y direction aligned with what it is sewn to.
 * Throws on unknown names.
 */
export function resolveSeams(bag: Bag, panels: readonly DraftPanel[]): DraftSeam[] {
  const found = bag.seams.map((seam) => [findRuns(panels, seam.sides[0], seam.name), findRuns(panels, seam.sides[1], seam.name)] as const);
  const facing = new Int8Array(panels.length).fill(1);
  let resolved = resolveAll(bag.seams, panels, found, facing);
  for (const panel of thirdLayers(found)) {
    const before = upMismatch(resolved, panels, panel);
    facing[panel] = -1;
    const flipped = resolveAll(bag.seams, panels, found, facing);
    if (upMismatch(flipped, panels, panel) < before - 1e-9) resolved = flipped;
    else facing[panel] = 1;
  }
  return resolved;
}

type FoundSides = readonly [readonly FoundRun[], readonly FoundRun[]];

function resolveAll(seams: readonly Seam[], panels: readonly DraftPanel[], found: readonly FoundSides[], facing: Int8Array): DraftSeam[] {
  const sewn = new SewnPlaces();
  const done: (DraftSeam | undefined)[] = new Array(seams.length).fill(undefined);
  // Plain edge-to-edge seams first, then chains on one panel, then chains over several panels, which need the corners of the others.
  const difficulty = (sides: FoundSides): number =>
    Math.max(...sides.map((runs) => (runs.length === 1 ? 0 : runs.every((r) => r.panel === runs[0].panel) ? 1 : 2)));
  for (const rank of [0, 1, 2])
    found.forEach((sides, i) => {
      if (difficulty(sides) !== rank) return;
      const seam = resolveSeam(seams[i], panels, sides, facing, sewn);
      done[i] = seam;
      const [a0, a1] = sideEnds(panels, seam.sides[0]);
      const [b0, b1] = sideEnds(panels, seam.sides[1]);
      sewn.join(a0, b0);
      sewn.join(a1, b1);
    });
  return done as DraftSeam[];
}

/** Sign of a run's outline direction seen with the cloth on the left and the face as sewn. */
const handOf = (panels: readonly DraftPanel[], run: FoundRun, facing?: Int8Array): number =>
  (panels[run.panel].edges[run.edge].clothOnLeft ? 1 : -1) * (facing ? facing[run.panel] : 1);

function resolveSeam(seam: Seam, panels: readonly DraftPanel[], [runsA, runsB]: FoundSides, facing: Int8Array, sewn: SewnPlaces): DraftSeam {
  const chainA = chainDirection(panels, runsA, sewn);
  const chainB = chainDirection(panels, runsB, sewn);
  const handed = handOf(panels, runsA[0], facing) * handOf(panels, runsB[0], facing);
  let a: SeamSide;
  let b: SeamSide;
  if (seam.reversed !== null) {
    // As stated: each chain walked in its own order; true turns side b round.
    a = layOut(panels, runsA, chainA >= 0, false);
    b = seam.reversed ? turnedRound(panels, a, runsB, chainB < 0, chainB, sewn) : layOut(panels, runsB, chainB >= 0, false);
  } else {
    // What the pairing direction of side b must be so that the cloth lies on opposite hands.
    const directionA = chainA !== 0 ? chainA : runsB.length > 1 && runsA.length > 1 && chainB !== 0 ? -chainB * handed : 1;
    a = layOut(panels, runsA, directionA > 0, false);
    const directionB = -directionA * handed;
    if (runsB.length > 1 && chainB === 0)
      b = betterOrder(panels, a, layOut(panels, runsB, directionB > 0, false), layOut(panels, runsB, directionB > 0, true), sewn);
    else if (chainB !== 0 && chainB !== directionB) b = turnedRound(panels, a, runsB, directionB > 0, chainB, sewn);
    else b = layOut(panels, runsB, directionB > 0, false);
  }
  const longer = b.length > a.length ? 1 : 0;
  const bunched = seam.bunches ? matchBunches(panels, seam, a, b) : null;
  const forwardA = a.runs[0].forward;
  const forwardB = b.runs[0].forward;
  return {
    name: seam.name,
    sides: [a, b],
    knots: matchCorners(a, b),
    ...bunched,
    ratio: Math.max(a.length, b.length) / Math.min(a.length, b.length),
    longer,
    reversed: !forwardB === forwardA,
    inferred: seam.reversed === null,
    faceFlips: (forwardA === forwardB ? 1 : -1) * handOf(panels, runsA[0]) * handOf(panels, runsB[0]) > 0,
  };
}

/**
 * A chain walked from its far end. A hoop has no far end: it may also keep its first run first and go round the other way, which is taken
 * when its corners then meet side a's better, or as well with as many runs (first run to first run, as written).
 */
function turnedRound(panels: readonly DraftPanel[], a: SeamSide, runs: readonly FoundRun[], forward: boolean, chain: number, sewn: SewnPlaces): SeamSide {
  const turned = layOut(panels, runs, forward, true);
  if (runs.length < 2 || !isHoop(panels, runs, chain < 0 ? -1 : 1, sewn)) return turned;
  const kept = layOut(panels, [runs[0], ...runs.slice(1).reverse()], forward, false);
  const misfit = (b: SeamSide): number => b.runs.reduce((sum, y) => sum + Math.min(...a.runs.map((x) => Math.abs(x.u1 - y.u1))), 0);
  const gain = misfit(turned) - misfit(kept);
  return gain > 1e-9 || (gain > -1e-9 && a.runs.length === runs.length) ? kept : turned;
}

/** Of two orders of a chain over several panels: the one whose ends are already sewn to side a's ends, else the one whose corners match in length. */
function betterOrder(panels: readonly DraftPanel[], a: SeamSide, given: SeamSide, turned: SeamSide, sewn: SewnPlaces): SeamSide {
  const score = (b: SeamSide): number => {
    const [a0, a1] = sideEnds(panels, a).map((k) => sewn.find(k));
    const [b0, b1] = sideEnds(panels, b).map((k) => sewn.find(k));
    let misfit = (a0 === b0 ? -1 : 0) + (a1 === b1 ? -1 : 0);
    for (let i = 0; i + 1 < b.runs.length; i++) {
      const x = b.runs[i];
      const y = b.runs[i + 1];
      if (sewn.find(placeKey(panels, x.panel, x.edge, x.forward ? x.to : x.from)) === sewn.find(placeKey(panels, y.panel, y.edge, y.forward ? y.from : y.to)))
        misfit -= 1;
      misfit += Math.min(...a.runs.map((r) => Math.abs(r.u1 - x.u1)));
    }
    return misfit;
  };
  return score(turned) < score(given) - 1e-12 ? turned : given;
}

/** Corners of the two sides that lie within cutting tolerance of each other are matched; elsewhere equal fractions between matches. */
function matchCorners(a: SeamSide, b: SeamSide): [number, number][] {
  const knots: [number, number][] = [[0, 0]];
  const tolerance = Math.max(CUTTING_TOLERANCE / Math.max(a.length, b.length), CUTTING_FRACTION);
  let j = 0;
  for (let i = 0; i + 1 < a.runs.length; i++) {
    const ua = a.runs[i].u1;
    while (j + 1 < b.runs.length - 1 && Math.abs(b.runs[j + 1].u1 - ua) < Math.abs(b.runs[j].u1 - ua)) j++;
    if (j >= b.runs.length - 1) break;
    const ub = b.runs[j].u1;
    // Never swallow a short run: the tolerance shrinks to 0.4 of the stretch the knot would end.
    const [pa, pb] = knots[knots.length - 1];
    const limit = Math.min(tolerance, 0.4 * Math.min(ua - pa, 1 - ua, Math.abs(ub - pb), 1 - ub));
    if (Math.abs(ub - ua) <= limit && ub > pb) {
      knots.push([ua, ub]);
      j++;
    }
  }
  knots.push([1, 1]);
  return knots;
}

/** Maps a fraction of one side to the other through the knots. */
export function acrossKnots(knots: readonly (readonly [number, number])[], u: number, fromSide: 0 | 1): number {
  const to = fromSide === 0 ? 1 : 0;
  let i = 1;
  while (i < knots.length - 1 && knots[i][fromSide] < u) i++;
  const p = knots[i - 1];
  const q = knots[i];
  const w = (u - p[fromSide]) / (q[fromSide] - p[fromSide]);
  return p[to] + w * (q[to] - p[to]);
}

/** Panels sewn to an edge that another seam already uses: later seam's other panel. */
function thirdLayers(found: readonly FoundSides[]): number[] {
  const third: number[] = [];
  const overlaps = (r: FoundRun, s: FoundRun): boolean => r.panel === s.panel && r.edge === s.edge && Math.min(r.to, s.to) - Math.max(r.from, s.from) > 1e-6;
  found.forEach((sides, i) => {
    for (let k = 0; k < i; k++)
      for (const own of [0, 1] as const)
        for (const run of sides[own])
          if (found[k].some((runs) => runs.some((r) => overlaps(r, run))))
            for (const other of sides[1 - own]) if (other.panel !== run.panel && !third.includes(other.panel)) third.push(other.panel);
  });
  return third;
}

/** How far a panel's seams turn its y direction against the neighbour's: sum over its seams of -(dy dy') of the two sides' chords. */
function upMismatch(seams: readonly DraftSeam[], panels: readonly DraftPanel[], panel: number): number {
  let sum = 0;
  for (const seam of seams) {
    if (!seam.sides.some((side) => side.runs.some((r) => r.panel === panel))) continue;
    const rise = seam.sides.map((side) => {
      let dy = 0;
      for (const r of side.runs) {
        const c = panels[r.panel].edges[r.edge].curve;
        dy += (c.at(r.to)[1] - c.at(r.from)[1]) * (r.forward ? 1 : -1);
      }
      return dy / side.length;
    });
    sum -= rise[0] * rise[1];
  }
  return sum;
}
