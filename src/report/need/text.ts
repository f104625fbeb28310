import { formatGsm, formatMm, formatRigidity, trimmed } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { stableJson } from '../json.ts';
import { CAUTIONS, percent } from '../words.ts';
import { massNeeded, overhangNeeded } from './overhang.ts';
import type { NeedEdge, NeedPanels, NeedReport, NeedSearch, NeedStack, NeedStance, NeedTry } from './types.ts';

const mm = (m: number): string => formatMm(m, 0);
/** `grows`: the mass grows as an interfacing's would, which the mark on the stack says. */
type Told = NeedStack & { readonly grows?: boolean };
const overhangAt = (s: Told, factor: number): number => overhangNeeded(s, factor, s.grows ? 'grows' : 'stays');
const massAt = (s: Told, factor: number): number => massNeeded(s, factor, s.grows ? 'grows' : 'stays');
const times = (factor: number): string => (factor >= 1 ? `${trimmed(factor, factor < 10 ? 2 : 0)} times` : percent(factor).concat(' of'));
const listed = (names: readonly string[]): string => (names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`);
const state = (t: NeedTry): string => (t.status === 'settled' ? t.word : `${t.word} (still moving)`);

/** "your stack has 53 mm, needs 84 mm" */
function hasNeeds(s: NeedStack, edge: NeedEdge): string {
  const { factor } = edge.met;
  const has = `has ${mm(s.overhang)}`;
  const weighs = massAt(s, factor) > s.arealMass * 1.005 ? `, ${formatGsm(massAt(s, factor))} where it has ${formatGsm(s.arealMass)}` : '';
  const to = `${mm(overhangAt(s, factor))} (${formatRigidity(s.rigidity * factor)}, ${times(factor)} its rigidity${weighs})`;
  return factor > 1 ? `${has}, needs ${to}` : `${has}; ${to} is enough`;
}

const hasAtMost = (s: NeedStack, { met: { factor } }: NeedEdge): string =>
  `${factor < 1 ? `has ${mm(s.overhang)}, may have ${mm(overhangAt(s, factor))} at most` : `may have ${mm(overhangAt(s, factor))} at most`} (${formatRigidity(s.rigidity * factor)})`;

/** Both sides of an edge, the gap between them, and what the finer mesh said. lead: the stack whose overhang is told. */
function certified(edge: NeedEdge, lead: NeedStack, wanted: string): string[] {
  const { met, missed, gap, finer } = edge;
  const at = (t: NeedTry): string => mm(overhangAt(lead, t.factor));
  const both = `Settled on both sides: ${at(met)} ${state(met)} and meets "${wanted}", ${at(missed)} ${state(missed)} and does not. They are ${trimmed(100 * gap, 0)} % of rigidity apart.`;
  if (!finer) return [both];
  if (finer.agrees) return [both, `A finer mesh of ${finer.vertices} points says the same of both.`];
  const said = (t: NeedTry, was: NeedTry): string =>
    `${at(was)} ${state(t)}${t.side === 'meets' ? ' and meets it' : t.side === null ? '' : ' and does not meet it'}`;
  return [both, `A finer mesh of ${finer.vertices} points disagrees: there ${said(finer.met, met)}, ${said(finer.missed, missed)}. Leave room to spare.`];
}

/** What is said where no edge was found. */
function without(s: NeedSearch, lead: NeedStack, what: 'least' | 'most', wanted: string): string {
  const [first, last] = [s.tries[0]!, s.tries[s.tries.length - 1]!];
  const range = `${mm(overhangAt(lead, first.factor))} to ${mm(overhangAt(lead, last.factor))} of overhang`;
  if (what === 'most') return s.met ? `No stack tried was too stiff, up to ${mm(overhangAt(lead, last.factor))} of overhang.` : '';
  if (s.met)
    return first.side === 'meets'
      ? `Even ${mm(overhangAt(lead, first.factor))} of overhang meets "${wanted}"; nothing softer was tried.`
      : `It meets "${wanted}" at some of what was tried; no least was found.`;
  if (s.tries.some((t) => t.side === 'stiff') && s.tries.some((t) => t.side === 'soft'))
    return `Nothing between is "${wanted}": it goes from too soft to too stiff at once.`;
  return `Stiffness of these panels alone does not do it: nothing from ${range} meets "${wanted}".`;
}

/** Words that go up and down again. */
function oddLines(s: NeedSearch, lead: NeedStack): string[] {
  if (s.odd.length === 0) return [];
  const tries = s.odd.map((t) => `${mm(overhangAt(lead, t.factor))} ${state(t)} and ${t.side === 'meets' ? 'meets' : 'does not meet'} it`);
  return [`The words do not go one way: ${tries.join(', ')}. A soft bag settles into one heap of many; treat what lies near them as either.`];
}

function searchLines(s: NeedSearch, stacks: readonly NeedStack[], wanted: string, ends: boolean): string[] {
  const own = stacks.filter((k) => k.band === s.band),
    lead = own[0]!;
  const { least, most } = s;
  return [
    ...(least
      ? [...own.map((k) => `${k.stack} (${listed(k.panels)}): ${hasNeeds(k, least)}`), ...certified(least, lead, wanted)]
      : [without(s, lead, 'least', wanted)]),
    ...(!ends
      ? []
      : most
        ? [...own.map((k) => `${k.stack} (${listed(k.panels)}): ${hasAtMost(k, most)}`), ...certified(most, lead, wanted)]
        : [without(s, lead, 'most', wanted)].filter((w) => w !== '')),
    ...oddLines(s, lead),
    `Tried: ${s.tries.map((t) => `${mm(overhangAt(lead, t.factor))} ${state(t)}`).join(' · ')}`,
  ];
}

function stanceLines(r: NeedReport, { stance, mid, low }: NeedStance): string[] {
  const ends = r.wanted === 'slouchy' || r.wanted === 'soft';
  const of = (band: 'low' | 'mid'): NeedStack[] => r.stacks.filter((s) => s.band === band);
  const soft = low?.least ?? null;
  const typical = soft ? of('mid').map((s) => `${s.stack} ${mm(overhangAt(s, soft.met.factor))}`) : [];
  return [
    `${stance}: with a typical bolt`,
    ...searchLines(mid, r.stacks, r.wanted, ends).map((l) => `  ${l}`),
    ...(!r.softBolt
      ? []
      : low === null
        ? ['  The stacks are stated figures without a band: a soft bolt is the same.']
        : [
            `${stance}: with a soft bolt`,
            ...searchLines(low, r.stacks, r.wanted, false).map((l) => `  ${l}`),
            ...(soft ? [`  For a soft bolt to do as well, choose a cloth whose typical bolt has: ${typical.join(', ')}`] : []),
          ]),
  ];
}

function aloneLines(r: NeedReport): string[] {
  if (r.alone.length === 0) return [];
  const line = ({ panels, stance, search: s }: NeedPanels, i: number): string => {
    const where = `${String(i + 1).padStart(3)}. ${r.stances.length > 1 ? `${stance}, ` : ''}${listed(panels)} alone`;
    const lead = r.stacks.filter((k) => k.band === 'mid' && k.panels.some((p) => panels.includes(p)));
    if (s.least)
      return `${where}: ${lead.map((k) => `${k.stack} ${hasNeeds(k, s.least!)}`).join('; ')}; ${state(s.least.missed)} at ${trimmed(100 * s.least.gap, 0)} % less`;
    const idle = s.tries[0]!.side === 'meets' ? ' It does not depend on them.' : '';
    return `${where}: ${without(s, lead[0]!, 'least', r.wanted)}${idle}`;
  };
  return ['', 'one group of panels at a time, the others as they are; what needs least first:', ...r.alone.map(line)];
}

/** What is needed beyond one stance: the most demanding of them. */
function overall(r: NeedReport): string[] {
  if (r.stances.length < 2) return [];
  const missing = r.stances.filter((s) => s.mid.least === null && s.mid.tries[0]?.side !== 'meets');
  if (missing.length > 0) return ['', `No rigidity tried meets "${r.wanted}" in every stance: not ${listed(missing.map((s) => `"${s.stance}"`))}.`];
  const found = r.stances.filter((s) => s.mid.least !== null);
  if (found.length === 0) return [];
  const worst = found.reduce((a, b) => (b.mid.least!.met.factor > a.mid.least!.met.factor ? b : a));
  const { factor } = worst.mid.least!.met;
  const tight = found.filter((s) => s.mid.most !== null && s.mid.most.met.factor < factor);
  return [
    '',
    `"${worst.stance}" asks most: ${times(factor)} the rigidity meets "${r.wanted}" there${tight.length > 0 ? `, and is too stiff in ${listed(tight.map((s) => `"${s.stance}"`))}` : ''}.`,
  ];
}

const cautions = (r: NeedReport): readonly string[] => (r.stances.some((s) => s.hung) ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS);

/** What is needed, for a terminal: per stance what each stack has and needs as a strip's overhang at 41.5 deg, the two states that certify it, the soft bolt, then panels alone. */
export function needText(report: NeedReport): string {
  // Overhangs are told of stacks that know whether they grow heavier.
  const r: NeedReport = report.mass === 'grows' ? { ...report, stacks: report.stacks.map((s) => ({ ...s, grows: true })) } : report;
  const who = r.every ? 'all panels' : listed(r.panels);
  return `${[
    `${r.bag} · option ${r.option} · wanted "${r.wanted}"`,
    `How far must a strip of the finished stack hang over an edge at 41.5 deg? Rigidity of ${who} changed together; ${r.mass === 'grows' ? 'weight grows as that of a nonwoven interfacing would (an estimate), stretch stays' : 'weight and stretch stay'}.`,
    '',
    ...r.stances.flatMap((s, i) => [...(i > 0 ? [''] : []), ...stanceLines(r, s)]),
    ...overall(r),
    ...aloneLines(r),
    '',
    `${r.runs} runs on a mesh of ${mm(r.edgeLength)} (${r.vertices} points). ${r.mass === 'grows' ? '' : 'An interfacing that adds rigidity also adds weight (--mass grows). '}Settle the stack you choose.`,
    ...cautions(r),
  ].join('\n')}\n`;
}

/** The same as JSON: metres, newton metres, kilograms per square metre, and the cautions that go with it. */
export const needJson = (r: NeedReport): string => stableJson({ ...r, cautions: cautions(r) });
