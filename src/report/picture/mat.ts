import { INCH } from '../../units/index.ts';
import { RIGHT, UP } from './camera.ts';
import { line, px, rect, text } from './svg.ts';
import { CHALK, INK, MAT, MAT_FLOOR, TAPE } from './tokens.ts';

/** The mat on paper, px: its box, where the floor's front edge (z = 0, y = 0) lies, and the scale. */
export interface MatBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** px */ readonly groundY: number;
  /** px per metre */ readonly scale: number;
  /** Depth at which the mat turns up into a wall, m. */ readonly wallY: number;
}

const MINOR = 0.02;
const MAJOR = 0.1;

/** One continuous cutting mat: floor, then wall, with a grid of 2 and 10 cm. */
export function paintMat(m: MatBox): string {
  const turn = m.groundY - m.scale * UP * m.wallY;
  const bottom = m.y + m.height;
  const grids = ['', ''];
  const add = (major: boolean, d: string) => {
    grids[major ? 1 : 0] += d;
  };
  const isMajor = (i: number) => i % Math.round(MAJOR / MINOR) === 0;
  // Verticals: up the wall from the turn, and slanting forward over the floor.
  const shift = m.scale * RIGHT * m.wallY;
  const near = (bottom - turn) * (RIGHT / UP);
  const first = -Math.ceil((shift + 40) / (m.scale * MINOR));
  const last = Math.ceil((m.width + near) / (m.scale * MINOR));
  for (let i = first; i <= last; i++) {
    const x = m.x + m.scale * i * MINOR + shift;
    add(isMajor(i), `M${px(x)} ${px(m.y)}V${px(turn)}L${px(x - near)} ${px(bottom)}`);
  }
  for (let i = 0; turn - m.scale * i * MINOR > m.y; i++) add(isMajor(i), `M${px(m.x)} ${px(turn - m.scale * i * MINOR)}h${px(m.width)}`);
  for (let i = -40; i < 200; i++) {
    const y = m.groundY - m.scale * UP * i * MINOR;
    if (y > turn && y < bottom) add(isMajor(i), `M${px(m.x)} ${px(y)}h${px(m.width)}`);
  }
  const clip = `<clipPath id="mat"><rect x="${px(m.x)}" y="${px(m.y)}" width="${px(m.width)}" height="${px(m.height)}"/></clipPath>`;
  return [
    clip,
    rect(m.x, m.y, m.width, m.height, MAT),
    rect(m.x, turn, m.width, bottom - turn, MAT_FLOOR),
    `<g clip-path="url(#mat)" fill="none" stroke="#fff"><path d="${grids[0]}" stroke-opacity=".045"/><path d="${grids[1]}" stroke-opacity=".12"/>`,
    `<path d="M${px(m.x)} ${px(m.groundY)}h${px(m.width)}" stroke-opacity=".28"/></g>`,
  ].join('');
}

/** The tape at the left edge, 0 on the table: inches on its right side, centimetres on its left. */
export function paintTape(m: MatBox, x: number, width: number): string {
  const parts = [rect(x, m.y, width, m.height, TAPE)];
  const right = x + width;
  const top = m.y + 12;
  for (let half = 0; ; half++) {
    const y = m.groundY - m.scale * half * (INCH / 2);
    if (y < top) break;
    const whole = half % 2 === 0;
    parts.push(line(right - (whole ? 15 : 9), y, right, y, INK, whole ? 1.4 : 1));
    if (half % 4 === 0 && half > 0) parts.push(text(right - 19, y + 4.5, String(half / 2), { size: 12.5, anchor: 'end', weight: 600 }));
  }
  for (let cm = 0; ; cm++) {
    const y = m.groundY - m.scale * cm * 0.01;
    if (y < top) break;
    const long = cm % 5 === 0;
    parts.push(line(x, y, x + (long ? 9 : 5), y, INK, long ? 1 : 0.7));
    if (cm % 10 === 0 && cm > 0) parts.push(text(x + 12, y + 3.8, String(cm), { size: 10.5, opacity: 0.72 }));
  }
  parts.push(line(x, m.groundY, right, m.groundY, INK, 1.4));
  parts.push(
    text(right - 19, m.groundY + 16, 'in', { size: 12, anchor: 'end', weight: 600 }),
    text(x + 6, m.groundY + 16, 'cm', { size: 10.5, opacity: 0.72 }),
  );
  return parts.join('');
}

/** Two pointers on the tape's edge: hollow at the drafted height, solid where the rim came to rest. */
export function paintPointers(m: MatBox, right: number, drafted: number, rim: number): string {
  const at = (h: number) => m.groundY - m.scale * h;
  const flag = (y: number, fill: string) => `<path d="M${px(right)} ${px(y)}l11 -5.5v11z" fill="${fill}" stroke="${TAPE}" stroke-width="1.2"/>`;
  return `${flag(at(drafted), MAT)}${flag(at(rim), TAPE)}`;
}

export const MAT_TEXT = { strong: { size: 16, fill: CHALK, weight: 600 }, faint: { size: 13, fill: CHALK, opacity: 0.8 } } as const;
