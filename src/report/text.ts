import { libm } from '../numerics/index.ts';
import { formatAngle, formatForce, formatMass, formatOzYd2, formatRigidity, GRAVITY, trimmed } from '../units/index.ts';
import { closureLines } from './closures.ts';
import { aroundWords } from './ground.ts';
import { cautionsFor, hungLines } from './hung.ts';
import { leadRun } from './judge.ts';
import { apartOf, cellOf, gramsApart, markLines, PANEL_HEADS, panelLines, rowsOf } from './rows.ts';
import { strainLine } from './strain.ts';
import type { BandRun, Result } from './types.ts';
import { BAND_WORD, evidenceTag, length, partsWords, pipsLine, pushedIn } from './words.ts';

/** Letter styles of a terminal; the plain ones return their text unchanged. */
export interface Style {
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
}

export const PLAIN: Style = { strong: (t) => t, faint: (t) => t };

/**
 * Report of one option for a terminal, at most 110 columns: the word, soft / typical / stiff, one sentence; indented below: details, figures low / mid / high, panels, stacks; cautions.
 * Every figure that rests on a material value says what kind of value that was. No clock times: the same result gives the same text.
 */
export function textReport(result: Result, style: Style = PLAIN): string {
  const lead = leadRun(result.runs);
  const v = result.verdict;
  const around = aroundWords(result);
  const lines = [
    `${style.strong(result.bag)} · option ${result.option} · ${result.stance}`,
    ...partsWords(result.parts).flatMap((w) => wrap(w, 100)),
    ...(around === '' ? [] : wrap(around, 100).map(style.faint)),
    '',
    style.strong(v.word.toUpperCase()),
    ...(pipsLine(v) === '' ? [] : [pipsLine(v)]),
    ...wrap(v.reason, 100),
    ...(v.wantedReason === '' ? [] : wrap(v.wantedReason, 100)),
    '',
    ...[
      ...v.details.flatMap((d) => wrap(d, 100)),
      ...(Number.isFinite(v.margin)
        ? [style.faint(`margin ${trimmed(v.margin, 2)}: 1 as drafted, 0 at the limit of "${lead.hung === null ? 'holds' : 'hangs true'}"`)]
        : []),
      '',
      ...figures(result, style),
      '',
      ...hanging(result, lead),
      ...closures(lead),
      ...strained(lead),
      ...standing(lead),
      ...onFeet(lead),
      ...panels(result, lead, style),
      '',
      ...marks(result, lead),
      ...stacks(result, style),
      '',
      balance(result, lead),
    ].map((l) => (l === '' ? '' : `  ${l}`)),
    '',
    ...cautionsFor([lead]).flatMap((c) => wrap(c, 100).map(style.faint)),
  ];
  return `${lines.join('\n')}\n`;
}

function figures(result: Result, style: Style): string[] {
  const { runs } = result;
  const rows = rowsOf(result).filter((row) => runs.some((run) => row.value(run) !== '-'));
  const body = rows.map((row) => [row.label, ...runs.map((run) => cellOf(row, result, run)), row.limit]);
  const nudges = ['after a nudge', ...runs.map(nudgeWord), 'comes back'];
  const filled = ['pushed-in walls', ...runs.map(pushedIn), ''];
  const word = ['verdict', ...runs.map((r) => result.verdict.byBand[r.band] ?? '-'), ''];
  const all = [['', ...runs.map((r) => (r.early ? `${r.band}, falling` : r.band)), 'holds at'], word, ...body];
  if (runs.some((r) => r.nudge.tested || r.nudge.slides)) all.push(nudges);
  if (runs.some((r) => r.inward.ran)) all.push(filled);
  return table(all, style, `figures rest on material values: ${evidenceTag(result.evidence)}`);
}

function nudgeWord(run: BandRun): string {
  if (run.nudge.slides) return 'would slide';
  // A bag on its straps that was not followed back to rest (swingFourWays).
  if (!run.nudge.tested) return run.hung !== null && run.nudge.worstShift > 0 ? 'not told' : 'not tried';
  if (!Number.isFinite(run.nudge.worstShift)) return 'goes over';
  return run.nudge.comesBack ? 'comes back' : `${trimmed(run.nudge.worstShift * 1000, 0)} mm off`;
}

function panels(result: Result, lead: BandRun, style: Style): string[] {
  const body = panelLines(result);
  return table([PANEL_HEADS, ...body], style, `${BAND_WORD[lead.band]} of the band; overhang and all that follows: ${evidenceTag(result.evidence)}`);
}

function hanging(result: Result, lead: BandRun): string[] {
  const lines = hungLines(lead, result.stitching).flatMap((l) => wrap(l, 108, '    '));
  return lines.length === 0 ? [] : [...lines, ''];
}

function closures(lead: BandRun): string[] {
  const lines = closureLines(lead).flatMap((l) => wrap(l, 108, '    '));
  return lines.length === 0 ? [] : [...lines, ''];
}

/** Where the weight acts, and how far the table may tilt. */
function standing({ balance }: BandRun): string[] {
  if (balance === null) return [];
  const height = `centre of mass ${length(balance.centre[2])} up`;
  if (balance.tipping === null) return [`${height}; it stands on a line, so no tipping angle is given`, ''];
  const { front, back, left, right } = balance.tipping;
  const words = `${height}; tips over on a table that falls ${formatAngle(front)} to the front, ${formatAngle(back)} to the back, ${formatAngle(left)} to the left, ${formatAngle(right)} to the right (if it does not slide first)`;
  return [...wrap(words, 108, '    '), ''];
}

/** What its feet carry; and its base where that has sagged to the table. */
function onFeet({ feet, reactions }: BandRun): string[] {
  if (!feet || feet.length === 0) return [];
  const left = libm.norm(reactions.table) - feet.reduce((sum, f) => sum + f.newtons, 0),
    base = left > 0.01 * libm.norm(reactions.table) ? `; its base rests on the table with ${formatForce(left)}` : '';
  return [...wrap(`its feet carry ${feet.map((f) => formatForce(f.newtons)).join(', ')}${base}`, 108, '    '), ''];
}

/** Only where it comes near the limit: elsewhere it is a figure of the JSON. */
function strained({ strain }: BandRun): string[] {
  const near = strain?.parts.some((p) => p.strain > strain.limit / 2) ?? false;
  return near ? [...wrap(strainLine(strain), 108, '    '), ''] : [];
}

function marks(result: Result, lead: BandRun): string[] {
  const lines = markLines(result, lead).map((m) => `mark ${m.name}: ${m.text}`);
  return lines.length === 0 ? [] : [...lines, ''];
}

function stacks(result: Result, style: Style): string[] {
  const groups = new Map<string, string[]>();
  for (const s of result.stacks) {
    const [d11, d22] = s.bending;
    const text = `${s.story}; ${formatOzYd2(s.arealMass)}, rigidity ${formatRigidity(d11)} along the grain, ${formatRigidity(d22)} across [${evidenceTag(s.evidence)}]`;
    const where = s.region === null ? s.panel : `${s.panel}/${s.region}`;
    groups.set(text, [...(groups.get(text) ?? []), where]);
  }
  return [...groups].flatMap(([text, where]) => wrap(`${style.strong(where.join(', '))}: ${text}`, 108, '  '));
}

function balance(result: Result, lead: BandRun): string {
  const held = libm.norm(lead.reactions.held),
    carried = libm.norm(lead.reactions.table) + held;
  const by = lead.hung !== null ? 'what it hangs from carries' : held > 0 ? 'table and clips carry' : 'what it stands on carries';
  const things = lead.contents.reduce((sum, c) => sum + c.mass, 0);
  const inside = things > 0 ? ` and ${formatMass(things)} of things in it` : '';
  const rest = `${lead.status === 'settled' ? 'at rest' : 'not at rest'} to ${lead.residual.toExponential(0)} of a mesh point's weight`;
  return `${formatMass(result.massKg)}, ${formatForce(result.massKg * GRAVITY)}${inside}; ${by} ${formatForce(carried)}; ${result.vertices} mesh points, ${rest}.`;
}

/** Columns padded to their widest cell; the first row is the head. The note stands under the table. */
export function table(rows: readonly (readonly string[])[], style: Style, note: string): string[] {
  const width = rows[0].map((_, c) => Math.max(...rows.map((r) => (r[c] ?? '').length)));
  const line = (r: readonly string[]) =>
    r
      .map((cell, c) => cell.padEnd(width[c]))
      .join('  ')
      .trimEnd();
  return [style.faint(line(rows[0])), ...rows.slice(1).map(line), style.faint(`(${note})`)];
}

/** Lines of at most `width` letters, broken at blanks; following lines start with `indent`. */
export function wrap(text: string, width: number, indent = ''): string[] {
  const lines: string[] = [];
  let at = '';
  for (const word of text.split(' ')) {
    if (at !== '' && at.length + 1 + word.length > width) {
      lines.push(at);
      at = indent + word;
    } else at = at === '' ? word : `${at} ${word}`;
  }
  return at === '' ? lines : [...lines, at];
}

/** Options of one bag side by side, differences to the first in brackets. Results in order; lead runs (mid). */
export function compareText(results: readonly Result[], style: Style = PLAIN): string {
  const first = leadRun(results[0].runs);
  const rows = rowsOf(results[0]).filter((row) => results.some((r) => row.value(leadRun(r.runs)) !== '-'));
  const cell = (value: string, difference: string) => (difference === '' ? value : `${value} (${difference})`);
  const grams = (r: Result) => gramsApart(r, results[0]);
  const body = [
    ['', ...results.map((r) => r.option), 'holds at'],
    ['verdict', ...results.map((r) => r.verdict.word), ''],
    ...(results.some((r) => r.verdict.testSwatch)
      ? [['soft / typical / stiff', ...results.map((r) => r.verdict.pips.map((p) => `${p.word}${p.follows ? ' (follows)' : ''}`).join(' / ')), 'test a swatch']]
      : []),
    ['gives way first', ...results.map((r) => r.verdict.givesWayFirst ?? '-'), ''],
    ['wanted', ...results.map((r) => (r.verdict.meetsWanted === null ? '-' : r.verdict.meetsWanted ? 'met' : 'missed')), results[0].verdict.wanted],
    ['weight', ...results.map((r) => cell(formatMass(r.massKg), grams(r) === '' ? '' : `${grams(r)} g`)), ''],
    ...rows.map((row) => [
      row.label,
      ...results.map((r) => {
        const run = leadRun(r.runs);
        return cell(cellOf(row, r, run), run === first ? '' : apartOf(row, r, run, results[0], first));
      }),
      row.limit,
    ]),
  ];
  const evidence = [...new Set(results.map((r) => evidenceTag(r.evidence)))].join(', ');
  const reasons = results.flatMap((r) =>
    wrap(`${style.strong(r.option)}: ${[r.verdict.reason, ...r.verdict.details, r.verdict.wantedReason].join(' ')}`.trimEnd(), 100, '  '),
  );
  const note = `${BAND_WORD[first.band]} of the band; brackets: difference to ${results[0].option}; figures rest on material values: ${evidence}`;
  const head = `${style.strong(results[0].bag)} · ${results.length} options · ${results[0].stance}`;
  return `${[head, '', ...table(body, style, note), '', ...reasons, '', ...cautionsFor(results.map((r) => leadRun(r.runs))).flatMap((c) => wrap(c, 100).map(style.faint))].join('\n')}\n`;
}
