import { formatMass, formatMm } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { stableJson } from '../json.ts';
import { stitchSentence } from '../stitches.ts';
import type { HangReport, SweepStep } from './types.ts';
import { distanceWords, drawnDistances, levelWords, sagWords, stepFigures, stepWord } from './words.ts';

/** Table for a terminal: the anchors at each distance, the loads, the stitching for reference, the cautions. Deterministic. */
export function hangText(r: HangReport): string {
  const a = r.anchors;
  const lines = [
    `${a.bag} · option ${a.option} · ${a.stance}, middle of the band, mesh ${formatMm(a.edgeLength)}`,
    ...a.drawn.places.map(
      (p) => `strap ${p.strap}: anchor on ${p.panel} ${distanceWords(p.fromSide)} from the ${p.side}, ${distanceWords(p.fromTop)} from the top`,
    ),
    '',
    `Anchors moved, ${a.load > 0 ? `${formatMass(a.load)} inside` : 'nothing inside'}`,
    ...columns([
      ['from side', 'tilt', 'mouth sag', 'base sag', 'drop', 'force per anchor', 'pull inward', ''],
      ...[
        { at: `as drawn at ${drawnDistances(a).map(distanceWords).join(', ')}`, step: a.drawn.step },
        ...a.steps.map((step) => ({ at: distanceWords(step.distance), step })),
      ].map(({ at, step }) => {
        const f = stepFigures(step);
        return [at, f.tilt, f.mouthSag, f.baseSag, f.drop, f.force, f.inward, stepWord(step, a.limits)];
      }),
    ]),
    ...reasons([a.drawn.step, ...a.steps]),
    levelWords(a),
    ...[sagWords([a.drawn.step, ...a.steps, ...(r.load?.steps ?? [])])].filter((w) => w !== ''),
  ];
  if (r.load !== null)
    lines.push(
      '',
      'As drawn, loaded',
      ...columns([
        ['load', 'base sag', 'drop', 'force per anchor', 'tilt', ''],
        ...r.load.steps.map((step) => {
          const f = stepFigures(step);
          return [step.load > 0 ? formatMass(step.load) : 'empty', f.baseSag, f.drop, f.force, f.tilt, stepWord(step, a.limits)];
        }),
      ]),
      ...reasons(r.load.steps),
    );
  const stitching = r.stitching && stitchSentence(r.stitching, r.stitching.reference);
  lines.push('', ...(stitching === null ? [] : [stitching]), ...HANGING_CAUTIONS);
  return `${lines.join('\n')}\n`;
}

/** The same as data: SI, 12 significant digits, stable key order. */
export function hangJson({ anchors: a, load, stitching }: HangReport): string {
  const anchors = { ...a, drawn: { ...a.drawn, step: undrawn(a.drawn.step) }, steps: a.steps.map(undrawn) };
  return stableJson({ anchors, load: load && { ...load, steps: load.steps.map(undrawn) }, stitching, cautions: HANGING_CAUTIONS });
}

/** Figures alone: a picture is a file of its own. */
const undrawn = <S extends SweepStep>({ picture: _, ...step }: S): Omit<S, 'picture'> => step;

const reasons = (steps: readonly SweepStep[]): string[] => [...new Set(steps.flatMap((s) => (s.reason === null ? [] : [`  not hung: ${s.reason}`])))];

function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((row) => row[c]!.length)));
  return rows.map((row) => `  ${row.map((cell, c) => cell.padEnd(widths[c]!)).join('  ')}`.trimEnd());
}
