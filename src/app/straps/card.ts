import { anchorPlace, type Bag, type HangReport, strapCard, strapFamily, withAnchorsAt } from './core.ts';

/** What the card of one step is made of: the bag with its anchors there, hung there. bag: the one that was hung; index: of the step, -1 for as drawn. */
export function cardAt(bag: Bag, report: HangReport, index: number): { readonly bag: Bag; readonly report: HangReport } {
  const { anchors } = report,
    step = anchors.steps[index];
  const moved = step && withAnchorsAt(bag, anchors.strap, step.distance).bag;
  if (!moved) return { bag, report };
  // On the card the anchors are drawn where they were moved to.
  const places = strapFamily(moved, anchors.strap).flatMap((s) =>
    ([0, 1] as const).map((e) => ({ strap: s.name, panel: s.anchors[e].panel, ...anchorPlace(moved, s, e) })),
  );
  return { bag: moved, report: { ...report, anchors: { ...anchors, drawn: { places, step } } } };
}

/** Prints the card through a frame of its own: the page around it stays out of the print. */
export function printCard(bag: Bag, report: HangReport): void {
  document.querySelector('iframe.strap-card')?.remove();
  const frame = document.createElement('iframe');
  frame.className = 'strap-card away';
  frame.tabIndex = -1;
  frame.setAttribute('aria-hidden', 'true');
  frame.title = bag.name;
  frame.addEventListener('load', () => frame.contentWindow?.print());
  frame.srcdoc = strapCard(bag, report);
  document.body.append(frame);
}

/** Hands the card to the browser's download as HTML; returns the file's name. */
export function saveCard(bag: Bag, report: HangReport): string {
  const url = URL.createObjectURL(new Blob([strapCard(bag, report)], { type: 'text/html' }));
  const link = document.createElement('a');
  link.href = url;
  const stem = `${bag.name} ${report.anchors.strap}`.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-');
  link.download = `${stem || 'strap'}.card.html`;
  link.click();
  // Some browsers read the blob only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
  return link.download;
}
