import { refill, svg } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { text } from '../page/text.ts';

const WIDTH = 46;

/** Marks of a tape: metres between small marks, and how many small marks to a numbered one, by what the scale leaves room for. */
function spacing(units: UnitChoice, scale: number): { readonly step: number; readonly per: number; readonly unit: number } {
  const unit = units !== 'metric' ? 0.0254 : 0.01;
  const small = units !== 'metric' ? [0.25, 0.5, 1, 2] : [0.5, 1, 5, 10];
  const step = small.find((s) => s * unit * scale >= 7) ?? small[small.length - 1];
  const named = (units !== 'metric' ? [1, 2, 4, 8] : [1, 2, 5, 10, 20]).find((n) => n >= step && n * unit * scale >= 24) ?? 20;
  return { step: step * unit, per: Math.round(named / step), unit };
}

/** Redraws the tape: it rises from the mat at the left and its zero is the mat's surface. */
export function drawTape(
  tape: SVGSVGElement,
  at: { readonly height: number; readonly zero: number; readonly scale: number; readonly units: UnitChoice },
): void {
  const { step, per, unit } = spacing(at.units, at.scale);
  const parts: SVGElement[] = [svg('rect', { class: 'tape-band', x: 0, y: 0, width: WIDTH, height: at.height })];
  for (let i = 0; ; i++) {
    const y = Math.round((at.zero - i * step * at.scale) * 2) / 2;
    if (y < 6) break;
    if (y > at.height - 4) continue;
    const named = i % per === 0;
    parts.push(svg('path', { class: 'tape-mark', d: `M${named ? 22 : 31} ${y}H${WIDTH}` }));
    if (named && y > 10) parts.push(svg('text', { class: 'tape-figure', x: 18, y: y + 4 }, String(Math.round((i * step) / unit))));
  }
  parts.push(svg('text', { class: 'tape-figure', x: 18, y: Math.min(at.zero + 22, at.height - 10) }, at.units !== 'metric' ? text.units.in : text.units.cm));
  tape.setAttribute('viewBox', `0 0 ${WIDTH} ${at.height}`);
  tape.setAttribute('height', String(at.height));
  refill(tape, ...parts);
}

export const newTape = (): SVGSVGElement => svg('svg', { class: 'tape', width: WIDTH, height: 10, role: 'img', 'aria-label': text.mat.tape });
