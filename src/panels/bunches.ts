import type { EdgePlace, Seam } from '../bag/types.ts';
import type { DraftBunch, DraftPanel, SeamSide } from './types.ts';

/** Fractions of a side closer than this are one place. */
const SAME = 1e-9;

/** Fraction of a side at which a place of one of its edges lies; null when the side does not pass there. */
function alongSide(panels: readonly DraftPanel[], side: SeamSide, place: EdgePlace): number | null {
  for (const run of side.runs) {
    const panel = panels[run.panel];
    if (panel.name !== place.panel || panel.edges[run.edge].name !== place.edge) continue;
    const w = (place.at - run.from) / (run.to - run.from);
    if (w < -1e-6 || w > 1 + 1e-6) continue;
    return run.u0 + Math.min(1, Math.max(0, run.forward ? w : 1 - w)) * (run.u1 - run.u0);
  }
  return null;
}

/**
 * Matched places of a seam that is bunched between notches, and its bunches: [u on a, u on b] at both ends of every bunch.
 * The notches' own side is taken as drawn; a stretch of length l there takes ratio x l of the other side when that is the longer one, l / ratio when it
 * is the shorter; plain stretches l. What is missing to the other side's drawn length is shared out in proportion.
 * Bunches that overlap are cut where the earlier one ends (the check says so). Throws on a place that is on neither side.
 */
export function matchBunches(
  panels: readonly DraftPanel[],
  seam: Seam,
  a: SeamSide,
  b: SeamSide,
): { knots: [number, number][]; bunches: DraftBunch[]; bunched: number; overlaps: boolean } {
  const sides = [a, b] as const;
  const own = (seam.bunches ?? []).every((q) => alongSide(panels, a, q.from) !== null && alongSide(panels, a, q.to) !== null) ? 0 : 1;
  const [side, other] = [sides[own], sides[1 - own]];
  const placed = (seam.bunches ?? []).map((q) => {
    const ends = [q.from, q.to].map((place) => alongSide(panels, side, place));
    if (ends.includes(null)) throw new RangeError(`a notch of seam ${seam.name} is on neither of its sides`);
    const [p, r] = ends as [number, number];
    return { ratio: q.ratio, names: q.names, from: Math.min(p, r), to: Math.max(p, r) };
  });
  placed.sort((p, q) => p.from - q.from);
  const longer = other.length >= side.length;
  const pieces: { to: number; takes: number; bunch: number }[] = [];
  let at = 0;
  let overlaps = false;
  const add = (to: number, ratio: number, bunch: number): void => {
    if (to <= at + SAME) return;
    pieces.push({ to, takes: (to - at) * side.length * (longer ? ratio : 1 / ratio), bunch });
    at = to;
  };
  placed.forEach((q, i) => {
    overlaps ||= q.from < at - 1e-6;
    add(q.from, 1, -1);
    add(q.to, q.ratio, i);
  });
  add(1, 1, -1);
  const wanted = pieces.reduce((sum, p) => sum + p.takes, 0);
  const knots: [number, number][] = [[0, 0]];
  const bunches: DraftBunch[] = [];
  let [walked, before] = [0, 0];
  pieces.forEach((piece, i) => {
    walked += piece.takes;
    const there = i === pieces.length - 1 ? 1 : walked / wanted;
    const here = i === pieces.length - 1 ? 1 : piece.to;
    const knot: [number, number] = own === 0 ? [here, there] : [there, here];
    const last = knots[knots.length - 1];
    if (piece.bunch >= 0) {
      const q = placed[piece.bunch];
      const lengths = [(here - before) * side.length, (there - last[1 - own]) * other.length];
      bunches.push({ names: q.names, stated: q.ratio, drawn: longer ? lengths[1] / lengths[0] : lengths[0] / lengths[1], from: last, to: knot });
    }
    before = here;
    knots.push(knot);
  });
  return { knots, bunches, bunched: wanted / other.length, overlaps };
}
