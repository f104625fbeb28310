import { curveOf, edgeLength } from '../bag/index.ts';
import type { Bag, Member, OutlineEdge } from '../bag/types.ts';
import { memberFigures, memberWords } from '../material/index.ts';
import { libm } from '../numerics/index.ts';
import { advised, type Finding, millimetres } from '../panels/index.ts';

/** Least radius of a curve that piping lies round without puckers, in diameters of its cord (common practice, no source). */
const ROUND_CORD = 3;
/** Strain at the outside of a bent steel wire from which it keeps part of the bend: yield of hard-drawn spring wire, some 1500 MPa over 206 GPa (handbook, from memory). */
const SETS = 0.007;
/** A frame or zip that differs from its line by more than this is not its length, m, and as a share. */
const APART = { length: 2e-3, share: 0.01 };

const CORDS: readonly Member['kind'][] = ['cotton cord', 'paper cord', 'plastic cord'];

/**
 * What of the bag's members will not lie as drawn: a cord too thick for a curve, a straight wire that keeps its bend, a part bought ready whose length is not that of its line.
 * Radii are those of the drawn edges. Never throws.
 */
export function checkMembers(bag: Bag): readonly Finding[] {
  return (bag.members ?? []).flatMap((member) => {
    const { size } = memberFigures(member),
      found: Finding[] = [];
    let length = -2 * member.stopsShort;
    for (const run of member.runs) {
      const panel = bag.panels.find((p) => p.name === run.panel)!,
        edge = [...panel.outline, ...panel.holes.flat()].find((e) => e.name === run.edge)!,
        radius = leastRadius(edge, run.from, run.to),
        where = { kind: 'member', panel: run.panel, edge: run.edge, seam: null, value: radius, figure: millimetres(radius) } as const;
      length += (run.to - run.from) * edgeLength(edge);
      if (CORDS.includes(member.kind) && radius < ROUND_CORD * size)
        found.push(
          advised(
            where,
            `Member ${member.name}: a ${memberWords(member)} is too thick for the curve of ${millimetres(radius)} radius on ${run.panel}.${run.edge}.`,
            `a radius of ${millimetres(ROUND_CORD * size)}, three cords, or a cord of ${millimetres(radius / ROUND_CORD)}`,
          ),
        );
      const strain = size / (2 * radius);
      if (member.kind === 'spring wire' && member.formed === undefined && strain > SETS)
        found.push(
          advised(
            { ...where, value: strain, figure: `${(100 * strain).toFixed(1)} %` },
            `Member ${member.name}: a straight ${memberWords(member)} bent to the ${millimetres(radius)} radius of ${run.panel}.${run.edge} is strained by ${(100 * strain).toFixed(1)} % and keeps part of the bend.`,
            'a wire formed to its line ("formed": "as drawn"), or a thinner one',
          ),
        );
    }
    if (member.length !== undefined && !member.lines) {
      const apart = member.length - length;
      if (Math.abs(apart) > Math.max(APART.length, APART.share * length))
        found.push(
          advised(
            { kind: 'member', panel: member.runs[0]!.panel, edge: member.runs[0]!.edge, seam: null, value: apart, figure: millimetres(Math.abs(apart)) },
            `Member ${member.name} is ${millimetres(Math.abs(apart))} ${apart > 0 ? 'longer' : 'shorter'} than its line of ${millimetres(length)}.`,
            `a ${member.kind} of ${millimetres(length)}`,
          ),
        );
    }
    return found;
  });
}

/** Smallest radius of curvature of an edge between two fractions, m; Infinity where it is straight. From the turn between nine tangents. */
function leastRadius(edge: OutlineEdge, from: number, to: number): number {
  if (edge.kind === 'line') return Number.POSITIVE_INFINITY;
  const curve = curveOf(edge),
    length = edgeLength(edge);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 8; i++) {
    const [a, b] = [i, i + 1].map((k) => curve.tangent(from + ((to - from) * k) / 8)),
      turn = Math.abs(libm.atan2(a![0] * b![1] - a![1] * b![0], a![0] * b![0] + a![1] * b![1]));
    if (turn > 1e-6) least = Math.min(least, ((to - from) * length) / 8 / turn);
  }
  return least;
}
