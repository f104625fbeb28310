import { escapeXml } from '../units/index.ts';
import { embeddedBag, embeddedResults } from './embedded.ts';
import { answerPart, figuresPart, namesOf, underName } from './html/answer.ts';
import { faint, partHtml, type ReportPart } from './html/blocks.ts';
import { changePart, whyParts } from './html/reasons.ts';
import { limitsPart, restsOnPart, versionsPart } from './html/rests-on.ts';
import { reportStyle } from './html/style.ts';
import { cautionsFor } from './hung.ts';
import { leadRun } from './judge.ts';
import { picture } from './picture/picture.ts';
import type { Result } from './types.ts';
import { VERSION } from './version.ts';

/** What a report holds beside the results. */
export interface ReportExtras {
  /** What the bag was made to answer: the note of its file. */ readonly question?: string;
  /** Parts that others made, between the reasons and the limits: a cutting list. */ readonly parts?: readonly ReportPart[];
  /** The results as a results file has them (resultsJson), kept inside, so that the page shows the report's figures again without settling anything. */ readonly results?: string;
}

/** Bags in one picture: a sheet is no wider. */
const SIDE_BY_SIDE = 2;

/**
 * A page to send or print, as HTML text: the question, the answer for each option or stance, the bags side by side, their figures, why each has its word, what would
 * change it, what was measured and what is an estimate, further parts, limits, cautions, versions. One file, no script, nothing fetched; A4 and US letter.
 * Deterministic. results: of one bag, at least one. bag: text of the bag file, kept inside, so that the report opens where the file does (embedded.ts).
 */
export function htmlReport(results: readonly Result[], bag?: string, extras: ReportExtras = {}): string {
  const first = results[0];
  if (first === undefined) throw new Error('missing results: a report needs at least one');
  const title = `${first.bag}: ${results.length > 1 ? `${results.length} ${results.some((r) => r.stance !== first.stance) ? 'stances' : 'options'}` : first.verdict.word}`;
  let pictures = 0;
  const own = (svg: string): string => separate(svg, pictures++);
  const parts = [
    figuresPart(results),
    ...whyParts(results),
    changePart(results),
    restsOnPart(results),
    ...(extras.parts ?? []),
    limitsPart(),
    { title: 'Cautions', blocks: cautionsFor(results.map((r) => leadRun(r.runs))).map(faint) },
    versionsPart(results, bag),
  ];
  const question = extras.question?.trim() ?? '';
  const hidden = `${bag === undefined ? '' : `\n${embeddedBag(bag)}`}${extras.results === undefined ? '' : `\n${embeddedResults(extras.results)}`}`;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escapeXml(title)}</title>
<link rel="icon" href="data:,"><style>${reportStyle(`${first.bag}, slumpline ${VERSION}`)}</style></head><body>
<main><header><h1>${escapeXml(first.bag)}</h1>
<p class="faint">${escapeXml(underName(results))}</p>${question === '' ? '' : `\n<p class="question">${escapeXml(question)}</p>`}</header>
${partHtml(answerPart(results), own)}
${pictureFigures(results).map(own).join('\n')}
${parts.map((p) => partHtml(p, own)).join('\n')}
</main>${hidden}</body></html>
`;
}

/** Options of one stance share a mat and a scale; stances do not. Their figures stand in tables of their own. */
function pictureFigures(results: readonly Result[]): string[] {
  const names = namesOf(results);
  const out: string[] = [];
  for (let i = 0; i < results.length; ) {
    let n = 1;
    while (n < SIDE_BY_SIDE && i + n < results.length && results[i + n]!.stance === results[i]!.stance) n++;
    const shown = results.slice(i, i + n);
    const svg = picture(shown, { smooth: true, bare: true, among: results.filter((r) => r.stance === results[i]!.stance) });
    const words = shown.map((r, k) => `${names[i + k]}: ${r.verdict.word}`).join('; ');
    out.push(`<figure>${svg}<figcaption>${escapeXml(`${words}. Dashed: as drafted. Grid 2 and 10 cm.`)}</figcaption></figure>`);
    i += n;
  }
  return out;
}

/** Ids are of the whole page, and every picture brings its own. */
const separate = (svg: string, i: number): string => (i === 0 ? svg : svg.replace(/(id="|url\(#)(\w+)/g, `$1$2-${i}`));
