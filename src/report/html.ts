import { escapeXml } from '../units/index.ts';
import { closureLines } from './closures.ts';
import { embeddedBag } from './embedded.ts';
import { cautionsFor, hungLines } from './hung.ts';
import { leadRun } from './judge.ts';
import { picture } from './picture/picture.ts';
import { FONT, INK, MUTED, PAPER, RULE } from './picture/tokens.ts';
import { keptOf, PANEL_HEADS, panelLines } from './rows.ts';
import { strainLine } from './strain.ts';
import { THRESHOLDS } from './thresholds.ts';
import type { Result } from './types.ts';
import { evidenceTag, limit, pipsLine, pushedIn } from './words.ts';

/**
 * A printable page as HTML text: the picture (up to four options side by side), then per option its panels and stacks, the limits used and the cautions.
 * One file, no script, nothing fetched. Deterministic. results: options of one bag, at least one. bag: text of the bag file, kept inside, so that the report opens
 * where the file does (embedded.ts).
 */
export function htmlReport(results: readonly Result[], bag?: string): string {
  const first = results[0];
  if (first === undefined) throw new Error('missing results: a report needs at least one');
  const title = `${first.bag}: ${results.length > 1 ? `${results.length} ${results.some((r) => r.stance !== first.stance) ? 'stances' : 'options'}` : first.verdict.word}`;
  const pictures: string[] = [];
  // Options share a mat; stances do not.
  const stances = results.some((r) => r.stance !== first.stance);
  const most = stances ? 1 : 4;
  for (let i = 0; i < results.length; i += most) pictures.push(`<figure>${separate(picture(results.slice(i, i + most)), i)}</figure>`);
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escapeXml(title)}</title>
<link rel="icon" href="data:,"><style>${CSS}</style></head><body>
<main><h1>${escapeXml(first.bag)}</h1><p class="faint">${escapeXml(stances ? `option ${first.option}, ${results.length} stances` : first.stance)}; wanted: ${first.verdict.wanted}</p>
${pictures.join('\n')}
${results.map((r) => section(r, stances ? r.stance : r.option)).join('\n')}
<section><h2>Where the words end</h2>${limits()}</section>
<section class="faint">${cautionsFor(results.map((r) => leadRun(r.runs)))
    .map((c) => `<p>${escapeXml(c)}</p>`)
    .join('')}</section>
</main>${
    bag === undefined
      ? ''
      : `
${embeddedBag(bag)}`
  }</body></html>
`;
}

/** Ids are of the whole page, and every picture brings its own. */
const separate = (svg: string, i: number): string => (i === 0 ? svg : svg.replace(/(id="|url\(#)(\w+)/g, `$1$2-${i}`));

function section(r: Result, name: string): string {
  const lead = leadRun(r.runs);
  const bands = pipsLine(r.verdict);
  const filling = r.runs.filter((run) => run.inward.ran).map((run) => `${run.band}: ${keptOf(r, run)} filled out, ${pushedIn(run)} pushed in`);
  return `<section><h2>${escapeXml(name)}: ${r.verdict.word}</h2>
${bands === '' ? '' : `<p class="faint">${escapeXml(bands)}</p>\n`}<p>${escapeXml(r.verdict.reason)}</p>
${r.verdict.wantedReason === '' ? '' : `<p>${escapeXml(r.verdict.wantedReason)}</p>\n`}<details open><summary>Details</summary>
${list(r.verdict.details.map(escapeXml))}${filling.length > 0 ? `<p class="faint">Height kept from walls filled out and pushed in: ${filling.join('; ')}</p>` : ''}
${table(PANEL_HEADS, panelLines(r))}
${list([...hungLines(lead, r.stitching), ...closureLines(lead), ...(strainLine(lead.strain) === '' ? [] : [strainLine(lead.strain)])].map(escapeXml))}<ul>${stackLines(r)}</ul></details></section>`;
}

const list = (items: readonly string[]): string => (items.length === 0 ? '' : `<ul>${items.map((i) => `<li>${i.trim()}</li>`).join('')}</ul>`);

function stackLines(r: Result): string {
  const groups = new Map<string, string[]>();
  for (const s of r.stacks) {
    const text = `${s.story} [${evidenceTag(s.evidence)}]`;
    groups.set(text, [...(groups.get(text) ?? []), s.region === null ? s.panel : `${s.panel}/${s.region}`]);
  }
  return [...groups].map(([text, panels]) => `<li><b>${escapeXml(panels.join(', '))}</b>: ${escapeXml(text)}</li>`).join('');
}

function limits(): string {
  const rows = THRESHOLDS.map((t) => [
    t.label,
    limit(t),
    t.decides ? limit({ ...t, holds: t.softens }) : 'past that: softens, never slumps',
    t.homeCheck,
    t.source,
  ]);
  return table(['measure', 'holds', 'softens', 'check at home', 'where it comes from'], rows);
}

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[], tag: string) => `<tr>${cells.map((c) => `<${tag}>${escapeXml(c)}</${tag}>`).join('')}</tr>`;
  return `<div class="wide"><table><thead>${line(heads, 'th')}</thead><tbody>${rows.map((r) => line(r, 'td')).join('')}</tbody></table></div>`;
}

const CSS = `body{margin:0;background:${PAPER};color:${INK};font:15px/1.45 ${FONT};font-variant-numeric:tabular-nums}
main{max-width:1440px;margin:0 auto;padding:24px}h1{font-size:24px;font-weight:650;margin:0}h2{font-size:17px;font-weight:650;margin:32px 0 8px}
p{margin:0 0 8px}.faint{color:${MUTED}}figure{margin:16px 0;overflow-x:auto}figure svg{max-width:100%;height:auto;display:block}
.wide{overflow-x:auto}table{border-collapse:collapse;margin:8px 0}th,td{text-align:left;padding:6px 16px 6px 0;border-top:1px solid ${RULE};white-space:nowrap}
th{font-weight:600;color:${MUTED}}ul{padding-left:20px;margin:8px 0}summary{cursor:pointer;color:${MUTED}}section{break-inside:avoid}
@media print{body{background:#fff}main{padding:0}}`;
