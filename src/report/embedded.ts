/** The bag file inside a report, so that the report can be opened where a bag file can. */

/** Where the file stands in the page: hidden, word for word. */
const OPEN = '<pre hidden id="slumpline-bag">';
const CLOSE = '</pre>';

const MARKS: readonly (readonly [string, string])[] = [
  ['&', '&amp;'],
  ['<', '&lt;'],
  ['>', '&gt;'],
];

/** The text of a bag file as a hidden part of a page. Nothing of it is run, shown or printed. */
export const embeddedBag = (bag: string): string => `${OPEN}${MARKS.reduce((text, [mark, word]) => text.replaceAll(mark, word), bag)}${CLOSE}`;

/**
 * The bag file inside a report of this program, byte for byte; any other text as it stands. Only the page's own hidden part is read; nothing in the page is run.
 */
export function bagTextIn(text: string): string {
  if (!/^\s*<!doctype html>/i.test(text)) return text;
  const from = text.lastIndexOf(OPEN);
  const to = from < 0 ? -1 : text.indexOf(CLOSE, from);
  if (to < 0) return text;
  return [...MARKS].reverse().reduce((inside, [mark, word]) => inside.replaceAll(word, mark), text.slice(from + OPEN.length, to));
}
