import type { Result } from '../core.ts';
import { h } from '../page/dom.ts';
import { mass, told, type UnitChoice } from '../page/format.ts';
import type { Column } from '../page/store.ts';
import { text } from '../page/text.ts';
import type { Subject } from '../view/picture.ts';
import type { Camera } from '../view/projection.ts';
import { Stage } from '../view/stage.ts';
import { trimmed } from './stills.ts';
import { words } from './words.ts';

export interface ImageWish {
  readonly width: number;
  readonly height: number;
  readonly ground: 'mat' | 'plain';
}

export interface ImageOf {
  readonly bag: string;
  readonly stance: string;
  readonly wanted: string;
  readonly columns: readonly Column[];
  readonly subject: (result: Result) => { readonly subject: Subject; readonly positions: ArrayLike<number> | null };
  readonly camera: Camera;
  readonly units: UnitChoice;
}

const INK = '#15201f';
const MUTED = '#5b6967';
const PAPER = '#fbfbf8';
const CHALK = '#f4f1e6';

/** Lines of words that fit a width; at most `most`, the last then ends in dots. */
function lines(paint: CanvasRenderingContext2D, words: string, width: number, most: number): string[] {
  const out: string[] = [];
  let line = '';
  for (const word of words.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (paint.measureText(longer).width <= width || line === '') line = longer;
    else {
      out.push(line);
      line = word;
    }
  }
  if (line !== '') out.push(line);
  return out.length <= most ? out : [...out.slice(0, most - 1), `${out[most - 1].replace(/\W+$/, '')} …`];
}

/** Drawn wider than the picture is not: at most this many times the pixels of a screen of 1200. */
const RATIO = 2;

/**
 * The settled bags side by side as an image: a heading, the bags under one camera, each with its word and why under it. Errors: no WebGL, or no image.
 * The bags are drawn by a stage of their own, as large as the image, beside the page.
 */
export async function imageOf(of: ImageOf, wish: ImageWish): Promise<Blob> {
  const settled = of.columns.filter((c) => c.result && !c.stale);
  const { width, height, ground } = wish;
  const unit = Math.min(width, height) / 1080;
  const n = Math.max(1, settled.length);
  // An upright image has its bags in two rows.
  const perRow = height > 0.9 * width && n > 2 ? 2 : n;
  const rows = Math.ceil(n / perRow);
  const head = Math.round(96 * unit);
  const foot = Math.round(44 * unit);
  const under = Math.round((rows > 1 ? 168 : 196) * unit);
  const mat = Math.floor((height - head - foot) / rows) - under;
  const out = h('canvas', { width, height });
  const paint = out.getContext('2d');
  if (!paint) throw new Error('no image');
  paint.fillStyle = PAPER;
  paint.fillRect(0, 0, width, height);
  const font = (size: number, weight = 400): void => {
    paint.font = `${weight} ${Math.round(size * unit)}px system-ui, "Segoe UI", Roboto, "DejaVu Sans", sans-serif`;
  };
  const edge = Math.round(32 * unit);
  paint.textBaseline = 'alphabetic';
  paint.fillStyle = INK;
  font(34, 700);
  paint.fillText(lines(paint, of.bag, width - 2 * edge, 1)[0] ?? '', edge, 46 * unit);
  paint.fillStyle = MUTED;
  font(20);
  paint.fillText(`${of.stance} · ${words.wanted(of.wanted)}`, edge, 78 * unit);

  for (let row = 0; row < rows; row++) {
    const shown = settled.slice(row * perRow, (row + 1) * perRow);
    const top = head + row * (mat + under);
    const drawn = await drawBags(shown, of, { width: width * (shown.length / perRow), height: mat, ground });
    paint.drawImage(drawn.canvas, 0, top, drawn.width, mat);
    drawn.done();
    const wide = width / perRow;
    shown.forEach((column, i) => {
      const left = i * wide + edge * 0.6;
      const room = wide - edge * 1.2;
      paint.fillStyle = ground === 'mat' ? CHALK : INK;
      font(20, 700);
      paint.fillText(column.letter, left, top + 30 * unit);
      font(18);
      lines(paint, column.title, room, 2).forEach((line, k) => {
        paint.fillText(line, left, top + (54 + 22 * k) * unit);
      });
      const { verdict, massKg } = column.result!;
      paint.fillStyle = INK;
      font(28, 700);
      paint.fillText(verdict.word, left, top + mat + 38 * unit);
      paint.fillStyle = MUTED;
      font(18);
      const why = lines(paint, told(verdict.reason, of.units), room, rows > 1 ? 3 : 4);
      why.forEach((line, k) => {
        paint.fillText(line, left, top + mat + (66 + 23 * k) * unit);
      });
      paint.fillText(mass(massKg), left, top + mat + (70 + 23 * why.length) * unit);
    });
  }
  font(16);
  paint.fillStyle = MUTED;
  paint.fillText(`${text.name} · ${words.foot}`, edge, height - 16 * unit);
  return new Promise((resolve, reject) => out.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no image'))), 'image/png'));
}

/** The bags of one row, drawn now; `done` lets go of what they were drawn with. */
async function drawBags(
  columns: readonly Column[],
  of: ImageOf,
  at: { readonly width: number; readonly height: number; readonly ground: 'mat' | 'plain' },
): Promise<{ readonly canvas: HTMLCanvasElement; readonly width: number; readonly done: () => void }> {
  const [width, height] = [at.width / RATIO, at.height / RATIO];
  const canvas = h('canvas', { style: `position:absolute;left:0;top:0;width:${width}px;height:${height}px` });
  const bays = columns.map((_, i) =>
    h('div', { style: `position:absolute;top:0;left:${(i * width) / columns.length}px;width:${width / columns.length}px;height:${height}px` }),
  );
  const host = h('div', { style: `position:fixed;left:-20000px;top:0;width:${width}px;height:${height}px`, 'aria-hidden': 'true' }, canvas, ...bays);
  document.body.append(host);
  const stage = new Stage(canvas, false);
  stage.setBays(bays);
  // What the bags leave free stands above and under them.
  let need = height;
  stage.onNeed = (px) => {
    need = px;
  };
  const low = Math.round(0.09 * height);
  stage.setFloor(low);
  stage.set({ ground: at.ground, map: 'cloth', rule: of.units !== 'metric' ? [0.0254, 0.1016] : [0.02, 0.1] });
  columns.forEach((column, i) => {
    const { subject, positions } = of.subject(column.result!);
    stage.setSubject(i, subject);
    if (positions) stage.show(i, positions);
  });
  stage.turnTo(of.camera);
  await trimmed();
  stage.drawNow(RATIO);
  stage.setFloor(low + Math.round(0.35 * Math.max(0, height - need)));
  stage.drawNow(RATIO);
  return {
    canvas,
    width: at.width,
    done: () => {
      stage.close();
      host.remove();
    },
  };
}
