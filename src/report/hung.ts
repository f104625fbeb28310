import { formatAngle, formatForce, trimmed } from '../units/index.ts';
import { stitchSentence } from './stitches.ts';
import type { BandRun, PatchStitching } from './types.ts';
import { CAUTIONS, length } from './words.ts';

/** Told wherever loads on straps and anchors are shown. */
export const HANGING_CAUTIONS: readonly string[] = [
  'Pulls are those of a bag that hangs still. A swing, a step or a jerk multiplies them.',
  'They do not say what a strap, seam, thread or fitting can carry. Test every one with a real load, well beyond what it is meant for, before anybody carries with it.',
];

/** Standing cautions under a report of several runs: those of a hung bag first where any of them hangs. */
export const cautionsFor = (runs: readonly Pick<BandRun, 'hung'>[]): readonly string[] =>
  runs.some((r) => r.hung !== null) ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS;

/** Tilt under which a bag hangs level for every purpose, rad: less than a level on a phone shows. */
const LEVEL = (0.5 * Math.PI) / 180;

/** A part of a pull under this share of it has no figure of its own. */
const HARDLY = 0.005;
/** Slides shorter than this go without saying, m. */
const SLID = 0.005;

/**
 * The figures of a hung bag, a line each: how it hangs, then each strap with its two anchors and, where their thread is stated, what their stitching comes to.
 * Empty for a bag that does not hang.
 */
export function hungLines(run: BandRun, stitching: readonly PatchStitching[] = []): readonly string[] {
  const h = run.hung;
  if (h === null) return [];
  const side = (a: number, to: string, fro: string): string => `${formatAngle(Math.abs(a))} ${a >= 0 ? to : fro}`;
  const askew = `${formatAngle(h.tilt)} off the plumb line (${side(h.tiltSideways, 'toward the second anchors', 'toward the first anchors')}, ${side(h.tiltForward, 'backward', 'forward')})`;
  const lines = [
    `hangs ${h.tilt < LEVEL ? 'level' : askew}; ${formatForce(h.weight)} in all`,
    ...(h.slid > SLID ? [`its straps have slid ${length(h.slid)} along what it hangs from`] : []),
    ...(h.mouthKept === null ? [] : [`mouth ${trimmed(100 * h.mouthKept, 0)} % of its drafted length between the straps`]),
  ];
  for (const s of h.straps) {
    const wanted = s.wantedDrop === null ? '' : `, wanted ${length(s.wantedDrop)}`;
    lines.push(
      s.slack
        ? `strap ${s.name}: hangs slack`
        : `strap ${s.name}: drop ${length(s.drop)}${wanted}; pull up to ${formatForce(s.tension)} in a leg${gripWords(s)}`,
    );
    for (const [i, a] of s.anchors.entries())
      lines.push(
        `  ${i === 0 ? 'first' : 'second'} anchor, on ${a.panel}: ${formatForce(a.size)}, ${formatForce(a.shear)} along the panel, ${peelWords(a)}; draws the mouth in with ${formatForce(a.inward)}; strap ${formatAngle(a.legAngle)} off vertical there`,
      );
  }
  return [...lines, ...stitchLines(stitching.filter((p) => h.straps.some((s) => s.name === p.strap)))];
}

/** What keeps the strap from running over what it hangs from; without friction nothing does. */
const gripWords = ({ frictionHolds }: { readonly frictionHolds: number }): string =>
  frictionHolds > 0 ? `; friction keeps it from running until one leg pulls ${formatForce(frictionHolds)} more than the other` : '';

const peelWords = ({ peel, size }: { readonly peel: number; readonly size: number }): string =>
  Math.abs(peel) < HARDLY * size ? 'hardly any off its face' : peel > 0 ? `${formatForce(peel)} off its face` : `${formatForce(-peel)} into it`;

/** What the ends' stitching comes to: straps that are sewn on alike are told of once. */
function stitchLines(stitching: readonly PatchStitching[]): string[] {
  const straps = new Map<string, string[]>();
  for (const p of stitching)
    for (const sentence of new Set(p.anchors.map((reference) => stitchSentence(p, reference))))
      straps.set(sentence, [...(straps.get(sentence) ?? []), p.strap]);
  return [...straps].map(([sentence, names]) => (straps.size === 1 ? sentence : `${names.join(', ')}: ${sentence}`));
}
