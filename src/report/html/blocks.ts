import { escapeXml } from '../../units/index.ts';

/** One thing in a part of a report. */
export type ReportBlock =
  | { readonly kind: 'text'; readonly text: string; readonly faint?: true }
  | { readonly kind: 'list'; readonly items: readonly string[] /** Each with a box to tick. */; readonly boxes?: true }
  | {
      readonly kind: 'table';
      readonly heads: readonly string[];
      readonly rows: readonly (readonly string[])[];
      /** Columns that hold figures, from 0: set to the right. */ readonly figures?: readonly number[];
    }
  | { readonly kind: 'picture' /** SVG text. */; readonly svg: string; readonly caption?: string };

/** A part of a report under a heading of its own. */
export interface ReportPart {
  readonly title: string;
  readonly blocks: readonly ReportBlock[];
}

const paragraph = (text: string, faint: boolean): string => `<p${faint ? ' class="faint"' : ''}>${escapeXml(text)}</p>`;

/** A figure and its unit stay on one line. */
const bound = (text: string): string => text.replace(/(\d) (?=\d|%|mm\b|in\b|deg\b|g\b|m\b|m2\b|g\/m2)/g, '$1\u00a0');

/** A table that a sheet holds. */
const SHORT = 24;

function table(heads: readonly string[], rows: readonly (readonly string[])[], figures: readonly number[]): string {
  const cell = (tag: string, text: string, i: number): string => `<${tag}${figures.includes(i) ? ' class="figure"' : ''}>${escapeXml(bound(text))}</${tag}>`;
  const line = (cells: readonly string[], tag: string): string => `<tr>${cells.map((c, i) => cell(tag, c, i)).join('')}</tr>`;
  // What is longer than most of a page has to break somewhere: between two lines, and its heads stand again over the rest.
  const long = rows.length > SHORT ? ' long' : '';
  return `<div class="wide${long}"><table><thead>${line(heads, 'th')}</thead><tbody>${rows.map((r) => line(r, 'td')).join('')}</tbody></table></div>`;
}

/** HTML of a block. picture: what is done to the text of a picture (its ids made its own). */
function blockHtml(block: ReportBlock, picture: (svg: string) => string): string {
  switch (block.kind) {
    case 'text':
      return paragraph(block.text, block.faint === true);
    case 'list':
      return block.items.length === 0
        ? ''
        : `<ul${block.boxes ? ' class="ticks"' : ''}>${block.items.map((i) => `<li>${escapeXml(i.trim())}</li>`).join('')}</ul>`;
    case 'table':
      return block.rows.length === 0 ? '' : table(block.heads, block.rows, block.figures ?? []);
    case 'picture':
      return `<figure>${picture(block.svg)}${block.caption === undefined ? '' : `<figcaption>${escapeXml(block.caption)}</figcaption>`}</figure>`;
  }
}

/** HTML of a part. Its heading, the words that follow and what they lead to stay on one sheet. */
export function partHtml(part: ReportPart, picture: (svg: string) => string): string {
  const first = part.blocks.findIndex((b) => b.kind !== 'text');
  const led = Math.max(0, first);
  const block = part.blocks[led];
  const together = block?.kind === 'table' && block.rows.length > SHORT ? led : led + 1;
  const html = (blocks: readonly ReportBlock[]): string =>
    blocks
      .map((b) => blockHtml(b, picture))
      .filter((text) => text !== '')
      .join('\n');
  const rest = html(part.blocks.slice(together));
  return `<section><div class="keep"><h2>${escapeXml(part.title)}</h2>
${html(part.blocks.slice(0, together))}</div>${rest === '' ? '' : `\n${rest}`}</section>`;
}

/** Text, a list, a table in short. */
export const text = (words: string): ReportBlock => ({ kind: 'text', text: words });
export const faint = (words: string): ReportBlock => ({ kind: 'text', text: words, faint: true });
export const list = (items: readonly string[]): ReportBlock => ({ kind: 'list', items });
