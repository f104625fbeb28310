import { formatMm } from '../../core.ts';
import { h, refill } from '../../page/dom.ts';
import type { Fault, PhotoReading } from '../core.ts';
import { sentence } from '../sentence.ts';
import { words } from './words.ts';

const degrees = (angle: number): string => `${((angle * 180) / Math.PI).toFixed(1)}°`;

/** Figures of a picture as they stand, or what is still to be marked or mended. */
export class PhotoResult {
  readonly element = h('section', { class: 'photo-result', 'aria-label': words.result });
  private readonly body = h('div', {});
  constructor() {
    this.element.append(h('h3', {}, words.result), this.body);
  }

  waits(count: number): void {
    refill(this.body, h('p', { class: 'reason' }, words.waits(count)));
  }

  faults(faults: readonly Fault[]): void {
    refill(
      this.body,
      h('h4', {}, words.faults),
      h('ul', { class: 'photo-faults' }, ...faults.map((f) => h('li', {}, `${sentence(`got ${f.got}`)} ${sentence(`expected ${f.expected}`)}`))),
    );
  }

  show(reading: PhotoReading): void {
    const [low, c, high] = reading.bendingLength;
    const off = Math.max(...reading.residuals.map(Math.abs));
    const row = (name: string, value: string, more = ''): HTMLElement =>
      h(
        'p',
        { class: 'photo-row' },
        h('span', { class: 'readout-name' }, name),
        h('strong', {}, value),
        more === '' ? '' : h('span', { class: 'small' }, ` ${more}`),
      );
    refill(
      this.body,
      row(words.length, formatMm(c, 1), words.interval(formatMm(low, 1), formatMm(high, 1))),
      row(words.overhang, formatMm(2 * c, 1)),
      row(words.strip, words.stripOf(formatMm(reading.length, 1), degrees(reading.chordAngle))),
      row(words.off, words.upTo(formatMm(off, 2))),
      h('h4', {}, words.notes),
      h('ul', { class: 'photo-notes' }, ...[...reading.warnings.map(sentence), words.lens].map((line) => h('li', {}, line))),
    );
  }
}
