import { figuresOf } from '../line-up/figures.ts';
import type { Column } from '../page/store.ts';
import { words } from './words.ts';

/** A field of a comma-separated file (RFC 4180). A name that a spreadsheet would take for a formula is quoted from it. */
function field(value: string | number | null): string {
  if (value === null) return '';
  const text = typeof value === 'string' && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value);
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

const round = (value: number | null, digits: number): number | null => (value === null ? null : Number(value.toFixed(digits)));
const percent = (share: number | null): number | null => round(share === null ? null : 100 * share, 1);
const degrees = (radians: number | null): number | null => round(radians === null ? null : (radians * 180) / Math.PI, 1);
const millimetres = (metres: number | null): number | null => round(metres === null ? null : 1000 * metres, 1);

/** The figures of the settled options, one line each under a line of headings; points for decimals, so that every program reads it. */
export function figuresFile(columns: readonly Column[], stance: string): string {
  const heads = Object.values(words.columns);
  const lines = columns.flatMap(({ result, option, title }) => {
    if (!result) return [];
    const f = figuresOf(result);
    const { byBand } = result.verdict;
    return [
      [
        option,
        title,
        stance,
        f.word,
        byBand.low ?? null,
        byBand.mid ?? null,
        byBand.high ?? null,
        percent(f.heightKept?.mid ?? null),
        millimetres(f.droop),
        degrees(f.lean),
        percent(f.bulge),
        degrees(f.hung?.tilt ?? null),
        percent(f.hung?.mouthSag ?? null),
        millimetres(f.hung?.baseSag ?? null),
        round(1000 * f.massKg, 0),
        millimetres(f.bulk?.thickness ?? null),
        millimetres(f.wall?.overhang ?? null),
        f.givesWayFirst,
        f.reason,
      ],
    ];
  });
  return `${[heads, ...lines].map((line) => line.map(field).join(',')).join('\r\n')}\r\n`;
}
