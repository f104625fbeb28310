import { handOver } from '../page/browser-storage.ts';
import { type Bag, bagAt, cornerSheets, type HangReport, type Paper, strapCard } from './core.ts';

/** Prints the card through a frame of its own: the page around it stays out of the print. */
export function printCard(bag: Bag, report: HangReport, index: number): void {
  document.querySelector('iframe.strap-card')?.remove();
  const frame = document.createElement('iframe');
  frame.className = 'strap-card away';
  frame.tabIndex = -1;
  frame.setAttribute('aria-hidden', 'true');
  frame.title = bag.name;
  frame.addEventListener('load', () => frame.contentWindow?.print());
  frame.srcdoc = strapCard(bag, report, index);
  document.body.append(frame);
}

const stemOf = (bag: Bag, report: HangReport): string => `${bag.name} ${report.anchors.strap}`.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-') || 'strap';

const download = (text: string, type: string, name: string): string => handOver(new Blob([text], { type }), name);

/** Hands the card to the browser's download as HTML; returns the file's name. */
export const saveCard = (bag: Bag, report: HangReport, index: number): string =>
  download(strapCard(bag, report, index), 'text/html', `${stemOf(bag, report)}.card.html`);

/** The same with the full-size corner templates of one step, a file for each unlike end; returns their names. */
export const saveCorners = (bag: Bag, report: HangReport, index: number, paper: Paper): readonly string[] =>
  cornerSheets(bagAt(bag, report.anchors, index), report.anchors.strap, paper).map(({ svg }, i) =>
    download(svg, 'image/svg+xml', `${stemOf(bag, report)}.corner${i === 0 ? '' : `-${i + 1}`}-${paper}.svg`),
  );
