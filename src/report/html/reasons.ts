import { libm } from '../../numerics/index.ts';
import { formatMass } from '../../units/index.ts';
import { closureLines } from '../closures.ts';
import { hungLines } from '../hung.ts';
import { leadRun } from '../judge.ts';
import { apartOf, cellOf, fallen, gramsApart, keptOf, PANEL_HEADS, panelLines, rowsOf } from '../rows.ts';
import { isWorse } from '../severity.ts';
import { strainLine } from '../strain.ts';
import { gateValue, marginOf, THRESHOLDS } from '../thresholds.ts';
import type { Result } from '../types.ts';
import { clause, limit, pipsLine, pushedIn } from '../words.ts';
import { namesOf } from './answer.ts';
import { faint, list, type ReportBlock, type ReportPart, text } from './blocks.ts';

/** Why each has its word, and each panel's figures. */
export function whyParts(results: readonly Result[]): ReportPart[] {
  const names = namesOf(results);
  return results.map((r, i): ReportPart => {
    const lead = leadRun(r.runs);
    const bands = pipsLine(r.verdict);
    const filling = r.runs.filter((run) => run.inward.ran).map((run) => `${run.band}: ${keptOf(r, run)} filled out, ${pushedIn(run)} pushed in`);
    const strain = strainLine(lead.strain);
    return {
      title: `Why: ${names[i]} ${r.verdict.word}`,
      blocks: [
        ...(bands === '' ? [] : [faint(bands)]),
        text(r.verdict.reason),
        ...(r.verdict.wantedReason === '' ? [] : [text(r.verdict.wantedReason)]),
        list([...r.verdict.details, ...hungLines(lead, r.stitching), ...closureLines(lead)]),
        ...(filling.length > 0 ? [faint(`Height kept from walls filled out and pushed in: ${filling.join('; ')}`)] : []),
        { kind: 'table', heads: PANEL_HEADS, rows: panelLines(r), figures: PANEL_HEADS.flatMap((_, k) => (k > 0 ? [k] : [])) },
        ...(strain === '' ? [] : [faint(`${strain.charAt(0).toUpperCase()}${strain.slice(1)}.`)]),
      ],
    };
  });
}

/** The figures of one that stands that lie nearest to their limits, worst first: "the front leans 6.6 deg (holds to 5 deg)". */
function nearest(r: Result): string[] {
  const run = leadRun(r.runs);
  if (r.verdict.word === 'no verdict' || run.stillFalling || run.early !== undefined || fallen(r).length > 0) return [];
  return THRESHOLDS.flatMap((t) => {
    const value = gateValue(t.gate, run.measures);
    return value === null ? [] : [{ t, margin: marginOf(t, value) }];
  })
    .sort((a, b) => a.margin - b.margin)
    .slice(0, 2)
    .filter(({ margin }) => margin < 0.8)
    .map(({ t, margin }) => `${clause(t, run)} (limit ${limit(t).replace(/[<>]= /, '')})${margin < 0 ? ', past it' : ''}`);
}

/** What would make the word another one, as far as what was settled tells: the bolt, the figures nearest to their limits, the other options. */
export function changePart(results: readonly Result[]): ReportPart {
  const names = namesOf(results);
  const blocks: ReportBlock[] = results.flatMap((r, i): ReportBlock[] => {
    const items: string[] = [];
    if (r.verdict.testSwatch)
      items.push(`The bolt: ${pipsLine(r.verdict)} of your own cloth to know which it is.`.replace(': test a swatch', '. Test a swatch'));
    const near = nearest(r);
    if (near.length > 0) items.push(`Nearest to its limit: ${near.join('; ')}.`);
    if (r.verdict.fit === 'too soft' || r.verdict.fit === 'too stiff') items.push(r.verdict.wantedReason);
    if (i > 0) items.push(instead(results[0]!, r, names[0]!));
    return items.length === 0 ? [] : [text(`${names[i]}:`), list(items)];
  });
  const ask =
    'Single changes (an interfacing, a base board, another size) are settled and ranked by "slumpline change"; how stiff it must at least be, by "slumpline need".';
  return { title: 'What would change it', blocks: [...blocks, faint(ask)] };
}

/** One instead of another: words, weight, and the figure that moves most. */
function instead(from: Result, to: Result, name: string): string {
  const grams = gramsApart(to, from);
  const [a, b] = [from.verdict.word, to.verdict.word];
  const word = a === b ? `both ${a === 'no verdict' ? 'have no verdict' : a}` : `${a} becomes ${b}`;
  const [runA, runB] = [leadRun(from.runs), leadRun(to.runs)];
  const moved = rowsOf(from).filter((row) => apartOf(row, to, runB, from, runA) !== '');
  const most = moved.find((row) => row.label === 'height kept') ?? (isWorse(a, b) || isWorse(b, a) ? moved[0] : undefined);
  const weight = grams === '' ? 'as heavy' : `${formatMass(libm.hypot(to.massKg - from.massKg, 0))} ${to.massKg > from.massKg ? 'heavier' : 'lighter'}`;
  return `Instead of ${name}: ${word}; ${weight}${most ? `; ${most.label} ${cellOf(most, to, runB)}, not ${cellOf(most, from, runA)}` : ''}.`;
}
