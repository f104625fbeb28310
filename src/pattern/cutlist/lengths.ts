/** What is cut by length besides straps and bindings: cords, boning, wires and frames of a bag's members, zips and cords of its closures. */
import { isCord, isZip } from '../../bag/index.ts';
import type { Bag, Closure, EdgeRun, Member } from '../../bag/types.ts';
import { memberFigures, memberWords } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import { placeKey, placeOnSide, SewnPlaces } from '../../panels/index.ts';
import type { Draft } from '../../panels/types.ts';
import type { Shelf } from '../../shelf/index.ts';
import { formatMm } from '../../units/index.ts';
import { trimPurchase } from './prices.ts';
import type { ListedLength, ListOptions } from './types.ts';

/** Places that seams bring together: matched corners of both sides. */
function sewnTogether({ panels, seams }: Draft): SewnPlaces {
  const sewn = new SewnPlaces();
  for (const { sides, knots } of seams)
    for (const knot of knots) {
      const [a, b] = sides.map((side, k) => {
        const { run, fraction } = placeOnSide(side, knot[k]!);
        return placeKey(panels, run.panel, run.edge, fraction);
      });
      sewn.join(a!, b!);
    }
  return sewn;
}

/** A stretch with its two ends, and what it measures, m. */
interface Piece {
  readonly ends: readonly [number | null, number | null];
  readonly length: number;
}

const found = (draft: Draft, run: EdgeRun) => {
  const panel = draft.panels.findIndex((p) => p.name === run.panel);
  return { panel, edge: draft.panels[panel]!.edges.findIndex((e) => e.name === run.edge) };
};
const runLength = (draft: Draft, run: EdgeRun): number => {
  const { panel, edge } = found(draft, run);
  return draft.panels[panel]!.edges[edge]!.length * (run.to - run.from);
};

/** Two pieces that meet, as one; null where they do not, or where the first already closes. */
function joinedEnds(a: Piece, b: Piece): Piece | null {
  if (a.ends[0] !== null && a.ends[0] === a.ends[1]) return null;
  for (const i of [1, 0] as const)
    for (const j of [0, 1] as const)
      if (a.ends[i] !== null && a.ends[i] === b.ends[j]) return { ends: [a.ends[1 - i]!, b.ends[1 - j]!], length: a.length + b.length };
  return null;
}

/** Lines that a member is cut in, m: stretches that meet in the sewn bag are one, less what is left out at both ends. */
export function memberCuts(bag: Bag, draft: Draft, member: Member): number[] {
  const sewn = sewnTogether(draft);
  const left = [
    ...member.runs.map((run): Piece => {
      const { panel, edge } = found(draft, run);
      const end = (u: number): number => sewn.find(placeKey(draft.panels, panel, edge, u));
      return { ends: [end(run.from), end(run.to)], length: runLength(draft, run) };
    }),
    ...(member.lines ?? []).map(({ panel, line }): Piece => {
      const { points } = bag.panels.find((p) => p.name === panel)!.lines.find((l) => l.name === line)!;
      return { ends: [null, null], length: points.slice(1).reduce((sum, p, i) => sum + libm.hypot(p[0] - points[i]![0], p[1] - points[i]![1]), 0) };
    }),
  ];
  const out: number[] = [];
  while (left.length > 0) {
    let line = left.shift()!;
    for (let i = 0; i < left.length; i++) {
      const grown = joinedEnds(line, left[i]!);
      if (!grown) continue;
      line = grown;
      left.splice(i, 1);
      i = -1;
    }
    out.push(Math.max(0, line.length - 2 * member.stopsShort));
  }
  return out.filter((l) => l > 0);
}

/** As listed, before it is looked for on a shelf. */
type Cut = Omit<ListedLength, 'bought'>;

/** Lines nearer than this in length are cut alike, m. */
const ALIKE = 1e-4;

function memberLengths(bag: Bag, draft: Draft, m: Member): Cut[] {
  const { lineMass, size } = memberFigures(m);
  const groups: { long: number; count: number }[] = [];
  for (const long of m.length === undefined ? memberCuts(bag, draft, m) : [m.length]) {
    const same = groups.find((g) => Math.abs(g.long - long) < ALIKE);
    if (same) same.count++;
    else groups.push({ long, count: 1 });
  }
  const where = [...new Set([...m.runs.map((r) => r.panel), ...(m.lines ?? []).map((l) => l.panel)])].join(', ');
  const how = [
    m.length === undefined ? `along its line on ${where}` : `bought ready for ${where}`,
    ...(m.stopsShort > 0 && m.length === undefined ? [`${formatMm(m.stopsShort)} left out at each end, clear of the seams`] : []),
    ...(m.ends === 'ring' ? ['closed to a ring: its ends meet; a sleeve or lap is not added'] : []),
  ];
  return groups.map(({ long, count }) => ({
    name: m.name,
    kind: 'member',
    material: m.kind,
    materialName: memberWords(m),
    length: long,
    width: size,
    count,
    mass: lineMass * long,
    how: how.join('; '),
  }));
}

function closureLength(c: Closure, draft: Draft, o: Pick<ListOptions, 'zipEnds' | 'cordEnds'>): Cut[] {
  if (isZip(c)) {
    const chain = c.sides.flat().reduce((sum, run) => sum + runLength(draft, run), 0) / 2;
    const length = chain + 2 * o.zipEnds;
    return [
      {
        name: c.name,
        kind: 'closure',
        material: c.kind,
        materialName: `${c.kind} with a chain of ${formatMm(c.size)}`,
        length,
        width: c.size,
        count: 1,
        mass: c.lineMass * length,
        how: `${formatMm(chain)} of chain, and ${formatMm(o.zipEnds)} of tape beyond it at each end`,
      },
    ];
  }
  if (!isCord(c)) return [];
  const length = c.length + 2 * o.cordEnds;
  return [
    {
      name: c.name,
      kind: 'closure',
      material: c.kind,
      materialName: c.kind,
      length,
      width: 0,
      count: 1,
      mass: c.lineMass * length,
      how: `${formatMm(c.length)} in its channel, and ${formatMm(o.cordEnds)} to tie at each end; drawn to ${formatMm(c.drawnTo)}`,
    },
  ];
}

/** Lengths of all members and closures, in the order of the file, and what they come to on a shelf. */
export const trimLengths = (bag: Bag, draft: Draft, o: Pick<ListOptions, 'zipEnds' | 'cordEnds' | 'shelf'>): ListedLength[] =>
  [...(bag.members ?? []).flatMap((m) => memberLengths(bag, draft, m)), ...(bag.closures ?? []).flatMap((c) => closureLength(c, draft, o))].map((t) => ({
    ...t,
    bought: ofTrim(o.shelf, t),
  }));

/** What a length comes to as a trim of its material's kind. */
export const ofTrim = (shelf: Shelf | null, t: Omit<ListedLength, 'bought'>) =>
  trimPurchase(shelf, t.material, t.width > 0 ? t.width : null, { length: t.length * t.count, count: t.count });
