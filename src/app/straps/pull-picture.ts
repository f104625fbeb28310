import type { SweepAnchor } from './core.ts';
import { words } from './words.ts';

/** Length that the whole pull is drawn as, px of a picture 150 x 120. */
const WHOLE = 64;
/** A part under this share of the pull has no arrow: it would be all head. */
const LEAST = 0.06;

const round = (v: number): string => String(Number(v.toFixed(1)));

/** An arrow from (x, y) along (u, v), px. */
function arrow(x: number, y: number, u: number, v: number): string {
  const l = Math.sqrt(u * u + v * v);
  if (l < LEAST * WHOLE) return '';
  const [a, b, p, q] = [u / l, v / l, x + u, y + v],
    head = Math.min(8, 0.6 * l),
    wing = (side: number): string => `${round(p - head * a - 0.5 * head * side * b)} ${round(q - head * b + 0.5 * head * side * a)}`;
  return `<path class="part" d="M${round(x)} ${round(y)}L${round(p)} ${round(q)}M${wing(1)}L${round(p)} ${round(q)}L${wing(-1)}"/>`;
}

const line = (d: string, kind: string): string => `<path class="${kind}" d="${d}"/>`;
const drawing = (label: string, body: string): string => `<svg viewBox="0 0 150 120" role="img" aria-label="${label}">${body}</svg>`;

/**
 * One anchor's pull taken apart: seen from the side, what runs along the panel and what lifts the patch off it (or presses it on); seen from the front, what draws the
 * mouth in. Arrows to one scale, no figures: those stand in the fold.
 */
export function pullPicture(a: SweepAnchor): { readonly side: string; readonly front: string; readonly words: readonly [string, string] } {
  const part = (v: number): number => (a.force > 0 ? (WHOLE * v) / a.force : 0),
    share = (v: number): number => Math.round((100 * Math.abs(v)) / Math.max(a.force, 1e-12)),
    lifts = a.peel >= 0;
  // The wall at x = 60, its face to the right; the mouth's edge at y = 22 of the other.
  const side = drawing(
    words.parts.side,
    line('M60 14V116', 'wall') +
      line('M60 70h6v34h-6z', 'patch') +
      arrow(66, 78, 0, -part(a.shear)) +
      arrow(66, 87, part(lifts ? a.peel : -a.peel) * (lifts ? 1 : -1), 0),
  );
  const front = drawing(
    words.parts.front,
    line('M8 22H142M8 22V116M142 22V116', 'wall') +
      line('M36 40h18v28h-18z', 'patch') +
      line('M96 40h18v28h-18z', 'patch') +
      arrow(54, 54, Math.min(20, part(a.inward)), 0) +
      arrow(96, 54, -Math.min(20, part(a.inward)), 0),
  );
  return { side, front, words: [words.parts.along(share(a.shear), share(a.peel), lifts), words.parts.inward(share(a.inward))] };
}
