/** What is said of a file that cannot be read. */
export const words = {
  several: (n: number): string => `${n} files at once`,
  one: 'one bag file at a time',
  tooLarge: (mb: string): string => `a file of at most 2 MB, not ${mb} MB`,
  unreadable: 'a file that can be read',
  notText: 'a bag file, which is text; this file is not text',
} as const;

const LARGEST_FILE = 2_000_000;
/** A report has pictures beside the bag file, results have shapes, and a sweep has thousands of runs. */
const LARGEST_REPORT = 16_000_000;

/** UTF-8 text of some bytes; null when they are none. */
function decoded(bytes: ArrayBuffer): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** Text of a chosen or dropped file, or what was expected instead. */
export async function readFile(file: File): Promise<{ readonly text: string } | { readonly got: string; readonly expected: string }> {
  if (file.size > (/\.(html?|jsonl)$|^table.*\.json$|result/i.test(file.name) ? LARGEST_REPORT : LARGEST_FILE))
    return { got: file.name, expected: words.tooLarge((file.size / 1e6).toFixed(1)) };
  try {
    const bytes = await file.arrayBuffer();
    const content = decoded(bytes);
    // The parser's complaint about bytes that are no text would help nobody.
    if (content === null || content.includes('\0')) return { got: file.name, expected: words.notText };
    return { text: content };
  } catch {
    return { got: file.name, expected: words.unreadable };
  }
}
