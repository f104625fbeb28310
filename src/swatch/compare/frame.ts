/** A plot's frame: axes with marks, lines told apart by dashes, marks and names at their ends, never by colour alone. SVG text. */
import { FONT, INK, MUTED, marksFor, PAPER, RULE } from '../../report/index.ts';
import { escapeXml } from '../../units/index.ts';

/** Six inks dark enough to read on paper. */
export const INKS = ['#15201f', '#0f6b5c', '#8a4b08', '#1b5fd1', '#7b2d6b', '#5b6967'] as const;
export const DASHES = ['', '9 4', '2 4', '12 4 2 4', '6 3 2 3 2 3', '1 6'] as const;
/** At most so many cloths are told apart by eye. */
export const MOST_COMPARED = 6;

const SIZE = { width: 760, height: 430 } as const;
const PLOT = { left: 74, right: 590, top: 56, bottom: 356 } as const;

interface Axis {
  readonly label: string;
  readonly low: number;
  readonly high: number;
  /** Values grow downwards: a droop is read as it hangs. */ readonly down?: boolean;
  /** Instead of round ones from low to high. */ readonly marks?: readonly number[];
}

interface Mark {
  readonly x: number;
  readonly y: number;
  /** Ends of its band. */ readonly acrossBand?: readonly [number, number];
  readonly upBand?: readonly [number, number];
  readonly hollow?: boolean;
}

interface Series {
  readonly name: string;
  readonly line: readonly (readonly [number, number])[];
  readonly marks: readonly Mark[];
}

interface Rule {
  readonly y: number;
  readonly label: string;
}

export interface Plot {
  readonly title: string;
  /** What is drawn and where it comes from: one line under the plot each. */ readonly notes: readonly string[];
  readonly across: Axis;
  readonly up: Axis;
  readonly series: readonly Series[];
  readonly rules: readonly Rule[];
}

const px = (v: number): string => String(Math.round(v * 10) / 10);
const words = (x: number, y: number, content: string, more = ''): string => `<text x="${px(x)}" y="${px(y)}" ${more}>${escapeXml(content)}</text>`;

/** The i-th mark's outline about a point, px. */
export function shape(i: number, x: number, y: number): string {
  const r = 5;
  const at = (points: readonly (readonly [number, number])[]): string => `<path d="M${points.map(([a, b]) => `${px(x + a)} ${px(y + b)}`).join('L')}Z"`;
  const all = [
    `<circle cx="${px(x)}" cy="${px(y)}" r="${r}"`,
    at([
      [-r, -r],
      [r, -r],
      [r, r],
      [-r, r],
    ]),
    at([
      [0, -r - 1],
      [r + 1, r],
      [-r - 1, r],
    ]),
    at([
      [0, -r - 2],
      [r + 2, 0],
      [0, r + 2],
      [-r - 2, 0],
    ]),
    at([
      [-r - 1, -r],
      [r + 1, -r],
      [0, r + 1],
    ]),
    at([
      [-r - 2, -2],
      [r + 2, -2],
      [r + 2, 2],
      [-r - 2, 2],
    ]),
  ];
  return all[i % all.length]!;
}

/** Names beside the right edge, each at its line's height, moved apart so that none lies on another. */
function spread(wanted: readonly number[], least: number, low: number, high: number): number[] {
  const order = wanted.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  let last = low - least;
  for (const o of order) last = o.y = Math.max(o.y, last + least);
  let next = high + least;
  for (const o of [...order].reverse()) next = o.y = Math.min(o.y, next - least);
  const out: number[] = [];
  for (const o of order) out[o.i] = o.y;
  return out;
}

const short = (name: string, most: number): string => (name.length <= most ? name : `${name.slice(0, most - 1)}…`);

/** One plot as SVG text, 760 x 430 px. Deterministic. */
export function plotSvg(p: Plot): string {
  const scale = (a: Axis, from: number, to: number): { readonly marks: readonly number[]; readonly at: (v: number) => number } => {
    const marks = a.marks ?? marksFor(a.low, a.high);
    const [low, high] = [marks[0]!, marks.at(-1)!];
    return { marks, at: (v) => from + ((v - low) / (high - low)) * (to - from) };
  };
  const across = scale(p.across, PLOT.left, PLOT.right);
  const up = p.up.down ? scale(p.up, PLOT.top, PLOT.bottom) : scale(p.up, PLOT.bottom, PLOT.top);
  const out: string[] = [words(16, 26, p.title, 'font-size="16" font-weight="600"')];
  for (const m of up.marks) {
    out.push(`<path d="M${PLOT.left} ${px(up.at(m))}H${PLOT.right}" stroke="${RULE}"/>`);
    out.push(words(PLOT.left - 8, up.at(m) + 4, String(m), 'font-size="12" text-anchor="end"'));
  }
  for (const m of across.marks) {
    out.push(`<path d="M${px(across.at(m))} ${PLOT.bottom}v5" stroke="${INK}"/>`);
    out.push(words(across.at(m), PLOT.bottom + 20, String(m), 'font-size="12" text-anchor="middle"'));
  }
  out.push(`<path d="M${PLOT.left} ${PLOT.top}V${PLOT.bottom}H${PLOT.right}" stroke="${INK}" fill="none"/>`);
  out.push(words(16, 46, p.up.label, `font-size="12.5" fill="${MUTED}"`));
  out.push(words(PLOT.right, PLOT.bottom + 38, p.across.label, `font-size="12.5" fill="${MUTED}" text-anchor="end"`));
  for (const rule of p.rules) {
    const y = up.at(rule.y);
    out.push(`<path d="M${PLOT.left} ${px(y)}H${PLOT.right}" stroke="${MUTED}" stroke-dasharray="3 3"/>`);
    out.push(words(PLOT.right - 4, y - 5, rule.label, `font-size="11.5" fill="${MUTED}" text-anchor="end"`));
  }
  const ends = p.series.map((s) => {
    const end = s.line.at(-1) ?? (s.marks[0] ? ([s.marks[0].x, s.marks[0].y] as const) : ([p.across.high, p.up.high] as const));
    return { x: across.at(end[0]), y: up.at(end[1]) };
  });
  const names = spread(
    ends.map((e) => e.y),
    17,
    PLOT.top + 6,
    PLOT.bottom,
  );
  p.series.forEach((s, i) => {
    const ink = INKS[i % INKS.length]!;
    const dash = DASHES[i % DASHES.length]!;
    if (s.line.length > 1)
      out.push(
        `<path d="M${s.line.map(([x, y]) => `${px(across.at(x))} ${px(up.at(y))}`).join('L')}" stroke="${ink}" stroke-width="2" fill="none" stroke-linejoin="round"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/>`,
      );
    for (const m of s.marks) {
      const [x, y] = [across.at(m.x), up.at(m.y)];
      if (m.acrossBand) {
        const [a, b] = m.acrossBand.map((v) => px(across.at(v)));
        out.push(`<path d="M${a} ${px(y)}H${b}M${a} ${px(y - 4)}v8M${b} ${px(y - 4)}v8" stroke="${ink}" fill="none"/>`);
      }
      if (m.upBand) {
        const [a, b] = m.upBand.map((v) => px(up.at(v)));
        out.push(`<path d="M${px(x)} ${a}V${b}M${px(x - 4)} ${a}h8M${px(x - 4)} ${b}h8" stroke="${ink}" fill="none"/>`);
      }
      out.push(`${shape(i, x, y)} fill="${m.hollow ? PAPER : ink}" stroke="${ink}" stroke-width="1.5"/>`);
    }
    const y = names[i]!;
    const from = PLOT.right + 14;
    if (s.line.length > 1)
      out.push(`<path d="M${px(from - 8)} ${px(y)}h24" stroke="${ink}" stroke-width="2" fill="none"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/>`);
    out.push(`${shape(i, from + 4, y)} fill="${ink}" stroke="${ink}"/>`);
    out.push(words(from + 21, y + 4, short(s.name, 20), `font-size="12.5" fill="${ink}"`));
  });
  p.notes.forEach((note, i) => {
    out.push(words(16, PLOT.bottom + 56 + 16 * i, note, `font-size="11.5" fill="${MUTED}"`));
  });
  const height = PLOT.bottom + 56 + 16 * p.notes.length;
  const label = `${p.title}: ${p.series.map((s) => s.name).join(', ')}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE.width}" height="${height}" viewBox="0 0 ${SIZE.width} ${height}" role="img" aria-label="${escapeXml(label)}" font-family="${FONT}" fill="${INK}"><rect width="${SIZE.width}" height="${height}" fill="${PAPER}"/>${out.join('')}</svg>\n`;
}
