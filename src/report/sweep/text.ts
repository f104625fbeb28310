import { formatMass, formatMm } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { stableJson } from '../json.ts';
import { stitchSentence } from '../stitches.ts';
import { changesWords, hereWords, insideWords } from './advice.ts';
import { recommend } from './recommend.ts';
import type { HangReport, SweepStep } from './types.ts';
import { cornerWords, distanceWords, drawnDistances, levelWords, sagWords, stepFigures, stepWord } from './words.ts';

/** Table for a terminal: the anchors at each distance, the loads, the stitching for reference, the cautions. Deterministic. */
export function hangText(r: HangReport): string {
  const a = r.anchors,
    best = recommend(a);
  const lines = [
    `${a.bag} · option ${a.option} · ${a.stance}, middle of the band, mesh ${formatMm(a.edgeLength)}`,
    ...a.drawn.places.map(
      (p) =>
        `strap ${p.strap}: anchor on ${p.panel} ${distanceWords(p.fromSide)} from the ${p.side}${cornerWords(p)}, ${distanceWords(p.fromTop)} from the top`,
    ),
    '',
    `Anchors moved, ${insideWords(a)}`,
    ...columns([
      ['from side', 'tilt', 'mouth sag', 'base sag', 'drop', 'force per anchor', 'pull inward', ''],
      ...[
        { at: `as drawn at ${drawnDistances(a).map(distanceWords).join(', ')}`, step: a.drawn.step },
        ...a.steps.map((step) => ({ at: distanceWords(step.distance), step })),
      ].map(({ at, step }, i) => {
        const f = stepFigures(step);
        return [at, f.tilt, f.mouthSag, f.baseSag, f.drop, f.force, f.inward, `${stepWord(step, a.limits)}${i - 1 === best.index ? ', recommended' : ''}`];
      }),
      ...(a.shortest ? [shortestCells(a.shortest, a.limits)] : []),
    ]),
    ...reasons([a.drawn.step, ...a.steps, ...(a.shortest ? [a.shortest] : [])]),
    levelWords(a),
    hereWords(a, distanceWords, best),
    ...(r.changes && r.changes.length > 0
      ? ['Single changes, each by itself, anchors as drawn:', ...changesWords(r.changes, a.limits).map((w) => `  ${w}`)]
      : []),
    ...[sagWords([a.drawn.step, ...a.steps, ...(r.load?.steps ?? [])])].filter((w) => w !== ''),
  ];
  if (r.load !== null)
    lines.push(
      '',
      `As drawn, loaded${r.load.things.length > 0 ? `, ${insideWords({ load: 0, things: r.load.things })} besides` : ''}`,
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

/** The row of a strap with its adjuster at its shortest. */
function shortestCells(step: SweepStep, limits: HangReport['anchors']['limits']): string[] {
  const f = stepFigures(step);
  return ['as drawn, strap at its shortest', f.tilt, f.mouthSag, f.baseSag, f.drop, f.force, f.inward, stepWord(step, limits)];
}

/** The same as data: SI, 12 significant digits, stable key order. */
export function hangJson({ anchors: a, load, stitching, changes }: HangReport): string {
  const anchors = {
    ...a,
    ...(a.shortest ? { shortest: undrawn(a.shortest) } : {}),
    drawn: { ...a.drawn, step: undrawn(a.drawn.step) },
    steps: a.steps.map(undrawn),
  };
  const tried = changes && { changes: changes.map((c) => ({ ...c, step: undrawn(c.step) })) };
  return stableJson({
    anchors,
    recommendation: recommend(a),
    load: load && { ...load, steps: load.steps.map(undrawn) },
    stitching,
    ...tried,
    cautions: HANGING_CAUTIONS,
  });
}

/** Figures alone: a picture is a file of its own, and the reason says what the faults do. */
const undrawn = <S extends SweepStep>({ picture: _, tracks: __, faults: ___, ...step }: S): Omit<S, 'picture' | 'tracks' | 'faults'> => step;

const reasons = (steps: readonly SweepStep[]): string[] => [
  ...new Set(steps.flatMap((s) => (s.reason === null ? [] : [`  ${s.status === 'refused' ? 'not hung' : 'not at rest'}: ${s.reason}`]))),
];

function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((row) => row[c]!.length)));
  return rows.map((row) => `  ${row.map((cell, c) => cell.padEnd(widths[c]!)).join('  ')}`.trimEnd());
}
