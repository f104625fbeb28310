/** The bag file and the results inside a report, so that the report can be opened where a bag file or a results file can. */

/** Where they stand in the page: hidden, word for word. */
const BAG = '<pre hidden id="slumpline-bag">';
const RESULTS = '<pre hidden id="slumpline-results">';
const CLOSE = '</pre>';

const MARKS: readonly (readonly [string, string])[] = [
  ['&', '&amp;'],
  ['<', '&lt;'],
  ['>', '&gt;'],
];

const hidden = (open: string, text: string): string => `${open}${MARKS.reduce((made, [mark, word]) => made.replaceAll(mark, word), text)}${CLOSE}`;

/** The text of a bag file as a hidden part of a page. Nothing of it is run, shown or printed. */
export const embeddedBag = (bag: string): string => hidden(BAG, bag);

/** The same of a results file (resultsJson). */
export const embeddedResults = (results: string): string => hidden(RESULTS, results);

/** What a report of this program holds between one opening and its end; null where the text is no page, or holds none. */
function inside(text: string, open: string): string | null {
  if (!/^\s*<!doctype html>/i.test(text)) return null;
  const from = text.lastIndexOf(open);
  const to = from < 0 ? -1 : text.indexOf(CLOSE, from);
  if (to < 0) return null;
  return [...MARKS].reverse().reduce((made, [mark, word]) => made.replaceAll(word, mark), text.slice(from + open.length, to));
}

/** A results file, as it is written or without blanks, in its own text or inside a report: quotes within a text are escaped, so no bag file's note looks like one. */
const WRITTEN = /"format":\s*"slumpline results"/;

/** Whether a text is a results file of this program, of whatever version, or a report that holds one. */
export const holdsResults = (text: string): boolean => WRITTEN.test(text);

/** What a results file holds of its bag file; null where the text is none, or holds nothing of it. */
function bagFileIn(text: string): string | null {
  if (!text.trimStart().startsWith('{') || !WRITTEN.test(text)) return null;
  try {
    const { bagFile } = JSON.parse(text) as { readonly bagFile?: unknown };
    return typeof bagFile === 'string' ? bagFile : null;
  } catch {
    return null;
  }
}

/**
 * The bag file inside a report or a results file of this program, byte for byte; any other text as it stands. Only the page's own hidden part is read; nothing in the
 * page is run.
 */
export const bagTextIn = (text: string): string => inside(text, BAG) ?? bagFileIn(text) ?? text;

/** The results file inside a report of this program, byte for byte; null where there is none. */
export const resultsTextIn = (text: string): string | null => inside(text, RESULTS);
