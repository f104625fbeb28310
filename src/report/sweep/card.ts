import { anchorPlace, polygonOf } from '../../bag/index.ts';
import type { Bag, Panel, Strap } from '../../bag/types.ts';
import { escapeXml, formatForce } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { FONT, INK, MUTED, RULE } from '../picture/tokens.ts';
import { stitchSentence } from '../stitches.ts';
import { length } from '../words.ts';
import { changesWords, hereWords, insideWords } from './advice.ts';
import { paintPanel } from './card-panel.ts';
import { recommend } from './recommend.ts';
import { bagAt, cardIndex, cutCautions, cutWords, familyOf } from './strap-cut.ts';
import type { AnchorSweep, HangReport } from './types.ts';
import { cornerWords, distanceWords, levelWords, sagWords, stepWord } from './words.ts';

/**
 * A card to print and lay beside the cutting table, as HTML text: every panel that the strap is sewn to, at full size where it fits a sheet, else to
 * scale; each anchor's distance from side and top in mm and in; the strap's length, finished and cut; drop and force per anchor; cautions. One file, no
 * script, nothing fetched. Deterministic. swept: the bag that was swept; index: the step it is made of (-1: as drawn), else the one recommended.
 */
export function strapCard(swept: Bag, r: HangReport, index: number = cardIndex(r)): string {
  const a = r.anchors,
    bag = bagAt(swept, a, index),
    family = familyOf(bag, a),
    step = a.steps[index] ?? a.drawn.step,
    best = recommend(a),
    // What is not at rest has no figures.
    known = step.status === 'settled';
  const strap = family[0]!,
    stitching = r.stitching && stitchSentence(r.stitching, r.stitching.reference);
  const figures: [string, string][] = [
    [
      'strap',
      `${family.length} x ${length(strap.length)} between the tops of the patches, ${distanceWords(strap.width)} wide, ${strap.layers} x ${strap.stack}`,
    ],
    ['cut', cutWords(family)],
    ['patch', `${distanceWords(strap.anchors[0].width)} by ${distanceWords(strap.anchors[0].height)}, ${strap.anchors[0].kind}`],
    ['drop', !known || step.drop === null ? '-' : `${length(step.drop)}${strap.drop === null ? '' : `, wanted ${length(strap.drop)}`}`],
    ...shortestRow(a, strap.shortest),
    [
      'force per anchor',
      !known || step.force === null ? '-' : `up to ${formatForce(step.force)}, hanging still from ${hangsFrom(bag, a.stance)} with ${insideWords(a)}`,
    ],
    ['here', `${index < 0 ? 'as drawn' : distanceWords(a.steps[index]!.distance)}: ${stepWord(step, a.limits)}${index === best.index ? ', recommended' : ''}`],
    ['level', [levelWords(a), sagWords([a.drawn.step, ...a.steps])].filter((w) => w !== '').join(' ')],
    ['advice', hereWords(a, distanceWords, best)],
    ...(r.changes && r.changes.length > 0
      ? [['single changes', `each by itself, anchors as drawn: ${changesWords(r.changes, a.limits).join('; ')}`] as [string, string]]
      : []),
  ];
  const state =
    step.status === 'refused'
      ? `Not hung so: ${step.reason}`
      : step.status === 'settled'
        ? ''
        : `The bag did not come to rest here, so it has no drop and no force: ${step.reason ?? 'it still moved'}.`;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escapeXml(`${bag.name}: strap ${a.strap}`)}</title>
<link rel="icon" href="data:,"><style>${CSS}</style></head><body>
<main><h1>${escapeXml(bag.name)}: strap ${escapeXml(a.strap)}</h1><p class="faint">option ${escapeXml(a.option)}; ${escapeXml(a.stance)}; middle of the material band</p>
${state === '' ? '' : `<p><b>${escapeXml(state)}</b></p>`}
${places(bag, family)}
<table>${figures.map(([k, v]) => `<tr><th scope="row">${k}</th><td>${escapeXml(v)}</td></tr>`).join('')}</table>
${stitching === null ? '' : `<p>${escapeXml(stitching)}</p>`}
${[...cutCautions(family), ...HANGING_CAUTIONS].map((c) => `<p class="caution">${escapeXml(c)}</p>`).join('')}
${sheets(bag, family)}
</main></body></html>
`;
}

/** A strap with an adjuster at its shortest, anchors as drawn: drop, force and how it hangs. */
function shortestRow({ shortest: step, limits }: AnchorSweep, length_: number | undefined): [string, string][] {
  if (length_ === undefined) return [];
  const told =
    step === undefined
      ? 'not hung'
      : step.status === 'settled'
        ? `${step.drop === null ? '' : `drop ${length(step.drop)}, `}${step.force === null ? '' : `up to ${formatForce(step.force)} per anchor, `}${stepWord(step, limits)}`
        : `${stepWord(step, limits)}: ${step.reason ?? ''}`;
  return [['at its shortest', `${length(length_)} between the tops of the patches, anchors as drawn: ${told}`]];
}

/** The panels drawn once each; those of one outline with the same anchors share a drawing. */
function sheets(bag: Bag, family: readonly Strap[]): string {
  const drawn = new Map<string, { panel: Panel; names: string[]; marks: ReturnType<typeof marksOn> }>();
  for (const name of new Set(family.flatMap((s) => s.anchors.map((anchor) => anchor.panel)))) {
    const panel = bag.panels.find((p) => p.name === name)!,
      marks = marksOn(bag, family, name),
      key = JSON.stringify([polygonOf(panel.outline), panel.holes.map((h) => polygonOf(h)), marks.map((m) => [m.anchor.at, m.anchor.width, m.anchor.height])]);
    const same = drawn.get(key);
    if (same) same.names.push(name);
    else drawn.set(key, { panel, names: [name], marks });
  }
  return [...drawn.values()].map((d) => paintPanel(d.panel, d.names, d.marks)).join('\n');
}

function hangsFrom(bag: Bag, stance: string): string {
  const found = bag.stances.find((s) => s.name === stance);
  const from = found?.kind === 'hung' ? found.from : 'hook';
  return from === 'hands' ? 'two hands' : `a ${from}`;
}

const marksOn = (bag: Bag, family: readonly Strap[], panel: string) =>
  family.flatMap((s) => ([0, 1] as const).filter((e) => s.anchors[e].panel === panel).map((e) => ({ anchor: s.anchors[e], place: anchorPlace(bag, s, e) })));

function places(bag: Bag, family: readonly Strap[]): string {
  const rows = family.flatMap((s) =>
    ([0, 1] as const).map((e) => {
      const p = anchorPlace(bag, s, e);
      return [s.name, s.anchors[e].panel, `${distanceWords(p.fromSide)} from the ${p.side}${cornerWords(p)}`, `${distanceWords(p.fromTop)} from the top`];
    }),
  );
  const heads = ['strap', 'on panel', "side to the strap's centre line", 'edge above to the top of the patch'];
  return `<table><thead><tr>${heads.map((h) => `<th scope="col">${escapeXml(h)}</th>`).join('')}</tr></thead><tbody>${rows.map((r) => `<tr>${r.map((c) => `<td>${escapeXml(c)}</td>`).join('')}</tr>`).join('')}</tbody></table>`;
}

const CSS = `@page{margin:12mm}body{margin:0;background:#fff;color:${INK};font:14px/1.4 ${FONT};font-variant-numeric:tabular-nums}
main{max-width:186mm;margin:0 auto;padding:16px 0}h1{font-size:22px;font-weight:650;margin:0}h2{font-size:15px;font-weight:650;margin:0 0 2mm}
p{margin:0 0 6px}.faint{color:${MUTED}}.caution{border-left:3px solid ${INK};padding-left:8px}table{border-collapse:collapse;margin:8px 0}
th,td{text-align:left;vertical-align:top;padding:4px 14px 4px 0;border-top:1px solid ${RULE}}th{font-weight:600;color:${MUTED}}
section{break-inside:avoid;margin-top:8mm}svg{display:block;max-width:none}@media screen{main{padding:16px}section{overflow-x:auto}}`;
