import { escapeXml } from '../../units/index.ts';
import { FONT, INK } from './tokens.ts';

/** Small pieces of SVG text. */

export const px = (v: number): string => (Math.round(v * 10) / 10).toString();

export interface TextStyle {
  readonly size?: number;
  readonly fill?: string;
  readonly weight?: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly opacity?: number;
}

export function text(x: number, y: number, content: string, s: TextStyle = {}): string {
  const extra = [
    s.weight === undefined ? '' : ` font-weight="${s.weight}"`,
    s.anchor === undefined ? '' : ` text-anchor="${s.anchor}"`,
    s.opacity === undefined ? '' : ` opacity="${s.opacity}"`,
  ].join('');
  return `<text x="${px(x)}" y="${px(y)}" font-size="${s.size ?? 15}" fill="${s.fill ?? INK}"${extra}>${escapeXml(content)}</text>`;
}

export function rect(x: number, y: number, w: number, h: number, fill: string, radius = 0): string {
  const round = radius > 0 ? ` rx="${radius}"` : '';
  return `<rect x="${px(x)}" y="${px(y)}" width="${px(w)}" height="${px(h)}" fill="${fill}"${round}/>`;
}

export function line(x1: number, y1: number, x2: number, y2: number, stroke: string, width = 1): string {
  return `<path d="M${px(x1)} ${px(y1)}L${px(x2)} ${px(y2)}" stroke="${stroke}" stroke-width="${width}" fill="none"/>`;
}

/** Width of a text as set, px: a guess on the wide side, because an SVG cannot measure and fonts differ. */
export const textWidth = (content: string, size: number): number => 0.575 * size * content.length;

/** Lines that fit a width, px. At most `most` lines; the last then ends in an ellipsis. */
export function fitLines(content: string, width: number, size: number, most = 9): string[] {
  const lines: string[] = [];
  let at = '';
  // A figure and its unit stay on one line.
  const bound = content.replace(/(\d) (%|mm|in\b|deg\b|g\b)/g, '$1\u00a0$2');
  for (const word of bound.split(/[ \n\t]+/).filter((w) => w !== '')) {
    const longer = at === '' ? word : `${at} ${word}`;
    if (at !== '' && textWidth(longer, size) > width) {
      lines.push(at);
      at = word;
    } else at = longer;
  }
  if (at !== '') lines.push(at);
  if (lines.length <= most) return lines;
  return [...lines.slice(0, most - 1), `${lines[most - 1].replace(/\W*$/, '')} ...`];
}

export const FONT_ATTRIBUTES = `font-family="${FONT}" style="font-variant-numeric:tabular-nums"`;
