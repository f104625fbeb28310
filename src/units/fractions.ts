/**
 * Inch fractions as makers write them: "12-3/8", "12 3/8 in", "12⅜ in", "12.375".
 */

/** Unicode vulgar fractions that occur on rulers and patterns. */
const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
};

/**
 * Text with typographic signs replaced by plain ones: vulgar fractions, the fraction slash, primes, the minus sign, multiplication and
 * division signs, no-break spaces. Returns text that the readers below understand; changes nothing else.
 */
export function plainText(text: string): string {
  return text
    .replace(/[½⅓⅔¼¾⅛⅜⅝⅞⅙⅚⅕⅖⅗⅘]/g, (c) => ` ${VULGAR[c]} `)
    .replace(/⁄/g, '/')
    .replace(/[″”“]/g, '"')
    .replace(/[−–]/g, '-')
    .replace(/[×·⋅]/g, '*')
    .replace(/÷/g, '/')
    .replace(/[\u00a0\u2009\u202f]/g, ' ')
    .replace(/²/g, '2')
    .replace(/[µμ]/g, 'u')
    .replace(/°/g, ' deg ')
    .replace(/π/g, ' pi ');
}

/** A number at the start of `text`: whole, decimal, exponent, fraction, or whole and fraction. */
const NUMBER = /^\s*(?:(\d+)(?:\s*-\s*|\s+)(\d+)\s*\/\s*(\d+)|(\d+)\s*\/\s*(\d+)|(\d+\.?\d*(?:[eE][-+]?\d+)?|\.\d+(?:[eE][-+]?\d+)?))/;

/**
 * The unsigned number at the start of plain text and how many characters it took; null when there is none.
 * A fraction counts as one number ("12-3/8" is 12.375), which is what a ruler reading means; a denominator of 0 gives null.
 */
export function leadingNumber(text: string): { readonly value: number; readonly taken: number } | null {
  const m = NUMBER.exec(text);
  if (!m) return null;
  const taken = m[0].length;
  if (m[1] !== undefined) return Number(m[3]) === 0 ? null : { value: Number(m[1]) + Number(m[2]) / Number(m[3]), taken };
  if (m[4] !== undefined) return Number(m[5]) === 0 ? null : { value: Number(m[4]) / Number(m[5]), taken };
  return { value: Number(m[6]), taken };
}

/**
 * What to write in place of the first comma between figures in `text`, or null where there is none: "1,3 mm" may be meant as 1.3 mm or as a list,
 * and "1,300 mm" as thousands too, so it is asked, never guessed.
 */
export function decimalComma(text: string): string | null {
  const m = /(\d+),(\d+)(\s*[A-Za-z"][A-Za-z0-9./]*)?/.exec(text);
  if (!m) return null;
  const [, whole, part, unit = ''] = m;
  const inches = unit.includes('"');
  const quoted = (figure: string): string => (inches ? `'${figure}${unit}'` : `"${figure}${unit}"`);
  const thousands = part!.length === 3 ? `, or ${quoted(`${whole}${part}`)} for thousands` : '';
  return `a point for decimals, ${quoted(`${whole}.${part}`)}${thousands}; two figures are a list, each in its own quotes: [${quoted(whole!)}, ${quoted(part!)}]`;
}
