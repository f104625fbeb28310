import { type Bag, BagError, type Member, type Stance } from '../bag/types.ts';
import { memberFigures } from '../material/index.ts';
import type { Band } from '../material/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { joinRods, type RodChain } from '../solver/index.ts';
import type { Model, Rods } from '../solver/types.ts';
import { CUT, type MemberLine, memberLines } from './member-lines.ts';
import { zipHalves } from './zip-halves.ts';

const END = { low: 0, mid: 1, high: 2 } as const;

type Clamps = Pick<Model, 'clampVerts'>;
type Vec = readonly [number, number, number];

/**
 * The bag's members, and the halves of its zips, as rods of the solver, at one end of their band; absent where there are none. A member bends with the cloth at its edge, in and out of its plane alike, and twists
 * freely (solver/elastic/rods.ts). It is straight at rest; formed to its line as drawn or as sewn, or to a radius, it rests there. Where the sewn line turns
 * by 30 degrees or more, one that is not formed is cut and hinges. A flat member counts alike both ways: in its plane the cloth is far stiffer than it is.
 * Parameters: bag; mesh; end of the band; 3n sewn start positions, m; what clips clamp, which holds a member's direction there; the stance.
 */
export function memberRods(bag: Bag, mesh: BagMesh, band: Band, placed: Float64Array, clamps: Clamps, stance: Stance): Rods | undefined {
  const chains = [...(bag.members ?? []).map((member) => ({ member, share: 1 })), ...zipHalves(bag, stance).map((member) => ({ member, share: 0.5 }))].flatMap(
    ({ member, share }) => {
      const figures = memberFigures(member),
        [EI, EA] = [share * figures.rodRigidity[END[band]], share * figures.stretch[END[band]]];
      if (!(EI > 0)) return [];
      const lines = memberLines(bag, mesh, member);
      assertCloses(member, lines, placed);
      return lines.map((line) => chainOf(member, line, EI, EA, placed, clamps));
    },
  );
  return chains.length > 0 ? joinRods(chains) : undefined;
}

function chainOf(member: Member, line: MemberLine, rigidity: number, stiffness: number, placed: Float64Array, { clampVerts }: Clamps): RodChain {
  const { verts, lengths, from, to } = line,
    k = lengths.length,
    closed = verts[0] === verts[k],
    clamped = new Set<number>();
  for (let c = 0; c < clampVerts.length; c += 3) clamped.add(clampVerts[c]!).add(clampVerts[c + 1]!);
  const side = (i: number): Vec => {
    const d = [0, 1, 2].map((n) => placed[3 * verts[i + 1]! + n]! - placed[3 * verts[i]! + n]!),
      l = libm.hypot(d[0]!, d[1]!, d[2]!) || 1;
    return [d[0]! / l, d[1]! / l, d[2]! / l];
  };
  const sewn = (i: number): number => {
    const [a, b] = [i > 0 ? i - 1 : closed ? k - 1 : -1, i < k ? i : closed ? 0 : -1];
    if (a < 0 || b < 0) return 0;
    const [s, t] = [side(a), side(b)],
      cross = [s[1] * t[2] - s[2] * t[1], s[2] * t[0] - s[0] * t[2], s[0] * t[1] - s[1] * t[0]];
    return libm.atan2(libm.hypot(cross[0]!, cross[1]!, cross[2]!), s[0] * t[0] + s[1] * t[1] + s[2] * t[2]);
  };
  const cell = (i: number): number => ((lengths[i > 0 ? i - 1 : k - 1] ?? 0) + (lengths[i < k ? i : 0] ?? 0)) / 2,
    bent = verts.map((_, i) => Math.max(sewn(i), Math.abs(line.flat[i] ?? 0))),
    // A corner turns far more than the line beside it: round a tight curve on a coarse mesh every joint turns by as much.
    corner = bent.map((turn, i) => turn >= CUT && turn / cell(i) > (beside(bent, i, closed, -1) + beside(bent, i, closed, 1)) / cell(i)),
    smooth =
      member.formed === 'sewn'
        ? evened(
            verts.map((_, i) => sewn(i)),
            verts.map((_, i) => cell(i)),
            corner,
            closed,
          )
        : [];
  const atRest = (i: number): number | null => {
    if (closed && (i === 0 || i === k) && member.ends !== 'ring') return null;
    const { formed } = member;
    if (formed === 'sewn') return smooth[i]!;
    if (formed === 'drawn') return line.flat[i] === null ? null : Math.abs(line.flat[i]!);
    if (typeof formed === 'number') return cell(i) / formed;
    return corner[i] ? null : 0;
  };
  const turns = verts.map((_, i) => atRest(i));
  return {
    verts,
    lengths,
    from,
    to,
    rigidity,
    stiffness,
    turns,
    // Where two panels meet nothing is drawn: a formed corner has its length as formed.
    flat: verts.map((_, i) => Math.abs(line.flat[i] ?? turns[i] ?? 0)),
    walls: [!closed && from <= 0 && clamped.has(verts[0]!) ? side(0) : null, !closed && to >= total(lengths) && clamped.has(verts[k]!) ? side(k - 1) : null],
  };
}

/** The value at the joint before (-1) or behind (1) joint i; 0 past an open end. */
function beside(of: readonly number[], i: number, closed: boolean, step: 1 | -1): number {
  const k = of.length - 1,
    j = i + step;
  if (j >= 0 && j <= k && !(closed && j === k && step === 1)) return of[j]!;
  return closed ? of[step === 1 ? (j > k ? 1 : 0) : k - 1]! : 0;
}

/** How often neighbours are evened: over some eight joints. */
const EVEN = 24;

/**
 * Turns of a sewn line as a maker bends a wire to it: the sewn start's small kinks, most at seams, are evened out between corners, which keep theirs. The sum stays.
 * turns, cells (m), corner: per vertex; of a closed line the last is the first.
 */
function evened(turns: readonly number[], cells: readonly number[], corner: readonly boolean[], closed: boolean): number[] {
  const n = closed ? turns.length - 1 : turns.length;
  let out = turns.slice(0, n);
  for (let pass = 0; pass < EVEN; pass++) {
    const next = out.slice();
    for (let i = 0; i < n; i++) {
      const j = i + 1 < n ? i + 1 : closed ? 0 : -1;
      if (j < 0 || corner[i] || corner[j] || (!closed && (i === 0 || j === n - 1))) continue;
      // What passes from the tighter joint to the other: half of what would make their curvatures equal.
      const flow = ((out[i]! / cells[i]! - out[j]! / cells[j]!) * (cells[i]! * cells[j]!)) / (cells[i]! + cells[j]!) / 2;
      next[i]! -= flow;
      next[j]! += flow;
    }
    out = next;
  }
  return closed ? [...out, out[0]!] : out;
}

/** Throws BagError where a ring is asked of a line whose ends are apart. */
function assertCloses({ name, ends }: Member, lines: readonly MemberLine[], placed: Float64Array): void {
  const open = lines.find(({ verts }) => verts[0] !== verts.at(-1));
  if (ends !== 'ring' || (lines.length === 1 && !open)) return;
  const [a, b] = open ? [open.verts[0]!, open.verts.at(-1)!] : [0, 0],
    apart = libm.hypot(placed[3 * a]! - placed[3 * b]!, placed[3 * a + 1]! - placed[3 * b + 1]!, placed[3 * a + 2]! - placed[3 * b + 2]!);
  const got = open ? `"ring", on a line whose ends are ${Math.round(apart * 1000)} mm apart in the sewn bag` : `"ring", on ${lines.length} closed lines`;
  throw new BagError([{ path: `members.${name}.ends`, got, expected: 'one line that closes, such as every edge of the mouth; or "open"' }]);
}

const total = (lengths: readonly number[]): number => lengths.reduce((sum, l) => sum + l, 0);

/** Tells the mass of every piece of member, kg, with the panel it was drawn on and its two vertices. */
export function eachMember(bag: Bag, mesh: BagMesh, tell: (panel: number, ends: readonly [number, number], kg: number, member: Member) => void): void {
  for (const member of bag.members ?? []) {
    const { lineMass } = memberFigures(member);
    for (const { verts, panels, lengths, from, to, drawn } of memberLines(bag, mesh, member)) {
      let at = 0;
      lengths.forEach((l, s) => {
        const covered = Math.max(0, Math.min(at + l, to) - Math.max(at, from));
        if (covered > 0) tell(panels[s]!, [verts[s]!, verts[s + 1]!], lineMass * covered * drawn, member);
        at += l;
      });
    }
  }
}

/** Length of each member as it is cut, m. */
export const memberLengths = (bag: Bag, mesh: BagMesh): ReadonlyMap<string, number> =>
  new Map((bag.members ?? []).map((m) => [m.name, memberLines(bag, mesh, m).reduce((sum, l) => sum + Math.max(0, l.to - l.from) * l.drawn, 0)] as const));
