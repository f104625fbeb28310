import { formatInches } from '../core.ts';
import { svg } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { words } from './words.ts';

export const TAPE_WIDTH = 46;

/** Marks that fit a scale: metres between small marks and between named ones. Parameter: px per metre. */
export function marksAt(units: UnitChoice, scale: number): { readonly small: number; readonly named: number; readonly unit: number } {
  const unit = units !== 'metric' ? 0.0254 : 0.01;
  const steps = units !== 'metric' ? [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 8] : [0.1, 0.5, 1, 2, 5, 10, 20];
  const pick = (px: number, least: number): number => steps.find((s) => s >= least && s * unit * scale >= px) ?? steps[steps.length - 1];
  const small = pick(6, 0);
  const whole = (s: number): boolean => Math.abs(s / small - Math.round(s / small)) < 1e-9;
  const named = steps.find((s) => s > small && whole(s) && s * unit * scale >= 30) ?? small * 4;
  return { small: small * unit, named: named * unit, unit };
}

const label = (metres: number, units: UnitChoice): string =>
  units !== 'metric' ? formatInches(Math.abs(metres), 16).replace(/ in$/, '') : String(Math.round(Math.abs(metres) * 1e4) / 100);

/** A tape at the left edge whose zero lies at `zero` px from the top: it runs up and down from there. */
export function tape(at: { readonly height: number; readonly zero: number; readonly scale: number; readonly units: UnitChoice }): SVGElement[] {
  const { small, named } = marksAt(at.units, at.scale);
  const parts: SVGElement[] = [svg('rect', { class: 'tape-band', x: 0, y: 0, width: TAPE_WIDTH, height: at.height })];
  const per = Math.round(named / small);
  const from = Math.ceil((at.zero - at.height) / (small * at.scale));
  const to = Math.floor(at.zero / (small * at.scale));
  for (let i = from; i <= to; i++) {
    const y = Math.round((at.zero - i * small * at.scale) * 2) / 2;
    const isNamed = i % per === 0;
    parts.push(svg('path', { class: 'tape-mark', d: `M${isNamed ? 36 : 40} ${y}H${TAPE_WIDTH}` }));
    if (isNamed && y > 10 && y < at.height - 24) parts.push(svg('text', { class: 'tape-figure', x: 34, y: y + 4 }, label(i * small, at.units)));
  }
  parts.push(svg('text', { class: 'tape-figure', x: 34, y: at.height - 6 }, at.units !== 'metric' ? words.units.in : words.units.cm));
  return parts;
}
