import { h, refill } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { FIXED_ANGLE_LOAD, GRAVITY, hangingStrip, loadAtChordAngle, SUPPORT_DISC, type SwatchTestName, stripRigidity } from './core.ts';
import { overhangOf, size } from './dimensions.ts';
import type { Ready } from './entries.ts';
import { textField } from './fields.ts';
import { learnWords as words } from './learn-words.ts';
import type { Reading } from './protocol.ts';
import { typedLength } from './typed-length.ts';

type Asked = keyof typeof words.asks;
const isAsked = (test: SwatchTestName): test is Asked => test in words.asks;

/** Diameter of a tube over its circumference. */
const ROUND = 1 / Math.PI;

/** "Predict first": what a student expects of a test, then that beside the sum by hand and the settled piece. */
export class Predict {
  readonly element: HTMLDetailsElement;
  private readonly ask = h('p', { class: 'bench-how' });
  private readonly field = textField(words.expected, '', { report: () => this.hide() }, 'expected');
  private readonly out = h('div', { class: 'predict-out', 'aria-live': 'polite' });
  private shown = false;
  private ready: Ready | null = null;
  private reading: Reading | null = null;
  private units: UnitChoice = 'metric';
  /** `hidden` hears whether the figures have to stay out of sight. */
  constructor(private readonly hidden: (are: boolean) => void) {
    const compare = (): void => {
      this.shown = this.expected() !== null;
      this.field.fault(this.shown ? null : words.wrong[this.unit]);
      this.draw();
    };
    // It stands within the form of choices: Enter here compares, and does not test anew.
    this.field.input.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter') return;
      event.preventDefault();
      compare();
    });
    const inside = [
      h('p', { class: 'small' }, words.how),
      this.ask,
      this.field.element,
      h('button', { type: 'button', class: 'plain', onclick: compare }, words.show),
      this.out,
    ];
    this.element = h('details', { class: 'bench-predict' }, h('summary', {}, words.predict), ...inside) as HTMLDetailsElement;
    this.element.addEventListener('toggle', () => this.draw());
  }

  private get test(): Asked | null {
    const test = this.ready?.ask.test;
    return test && isAsked(test) ? test : null;
  }

  private get unit(): 'length' | 'percent' {
    return this.test ? words.asks[this.test].unit : 'length';
  }

  /** What is on the bench now; a change of it takes the answer away again. */
  update(ready: Ready | null, units: UnitChoice): void {
    if (JSON.stringify(ready?.ask) !== JSON.stringify(this.ready?.ask)) {
      this.shown = false;
      this.reading = null;
      // What was expected of one test says nothing of another.
      if (ready?.ask.test !== this.ready?.ask.test) this.field.input.value = '';
    }
    this.ready = ready;
    this.units = units;
    this.element.hidden = this.test === null;
    if (this.test) {
      this.ask.textContent = words.asks[this.test].what;
      this.field.hint.textContent = this.unit === 'length' ? words.hint.length[units] : words.hint.percent;
    }
    this.draw();
  }

  /** The settled piece's reading. */
  read(reading: Reading): void {
    this.reading = reading;
    this.draw();
  }

  private hide(): void {
    if (!this.shown) return;
    this.shown = false;
    this.draw();
  }

  /** m, or percent; null where the field says neither. */
  private expected(): number | null {
    const typed = this.field.input.value.trim();
    if (this.unit === 'percent') {
      const value = Number(typed.replace(',', '.').replace(/\s*%$/, ''));
      return typed !== '' && value >= 0 && value <= 100 ? value : null;
    }
    const length = typedLength(typed, this.units);
    return length !== null && length > 0 ? length : null;
  }

  private draw(): void {
    this.hidden(this.element.open && !this.element.hidden && !this.shown);
    if (!this.shown || !this.ready || !this.test) {
      refill(this.out);
      return;
    }
    const told = (v: number | null): string => (v === null ? words.noHand : this.unit === 'percent' ? `${v.toFixed(0)} %` : size(v, this.units));
    const { value, how } = this.byHand();
    const program = this.reading ? this.ofReading(this.reading) : null;
    const truth = program ?? value;
    const mine = this.expected()!;
    const off = truth === null || truth === 0 ? null : Math.abs(mine / truth - 1);
    refill(
      this.out,
      h(
        'dl',
        {},
        ...(
          [
            [words.columns.you, told(mine)],
            [words.columns.hand, told(value)],
            [words.columns.program, program === null ? words.waiting : told(program)],
          ] as const
        ).map(([name, v]) => h('div', { class: 'readout-row' }, h('dt', {}, name), h('dd', {}, v))),
      ),
      off === null ? '' : h('p', {}, off < 0.05 ? words.near : words.off(`${Math.round(100 * off)} %`)),
      how === '' ? '' : h('p', { class: 'small' }, `${words.byHand}: ${how}`),
    );
  }

  /** What the settled piece says of the same figure, m or percent: an overhang from the angle at which the strip of its length came to hang. */
  private ofReading(r: Reading): number | null {
    if (r.status !== 'settled') return null;
    switch (this.test) {
      case 'cantilever':
        return r.more.length * Math.cbrt(FIXED_ANGLE_LOAD / loadAtChordAngle((r.reading * Math.PI) / 180));
      case 'heart':
        return r.reading * r.more.length;
      case 'tube':
        return r.reading * r.more.diameter;
      case 'standing':
        return r.reading;
      case 'drape':
        return r.reading;
      default:
        return null;
    }
  }

  private byHand(): { readonly value: number | null; readonly how: string } {
    const { sheet, ask, length } = this.ready!;
    const [B, w] = [stripRigidity(sheet.bending, ask.cut), sheet.arealMass * GRAVITY];
    const overhang = overhangOf(sheet, ask.cut);
    const c = overhang / 2;
    const mm = (v: number): string => size(v, this.units);
    switch (this.test) {
      case 'cantilever':
        return { value: overhang, how: words.worked.cantilever(`${(B * 1e6).toPrecision(3)} µN·m`, `${w.toPrecision(3)} N/m²`, mm(c), mm(overhang)) };
      case 'standing':
        return { value: 1.986 * c, how: words.worked.standing(mm(c), mm(1.986 * c)) };
      case 'heart':
      case 'tube': {
        const theory = this.reading?.theory ?? null;
        const whole = this.test === 'tube' ? length * ROUND : length;
        if (theory === null) return { value: null, how: '' };
        const K = (w * length ** 3) / B;
        return { value: theory * whole, how: words.worked.table(K.toPrecision(3), theory.toFixed(3), mm(whole), mm(theory * whole)) };
      }
      case 'drape': {
        // The hanging ring as if cut into narrow strips towards the rim: each reaches out as far as an overhanging strip of the ring's width does.
        const [r, long] = [SUPPORT_DISC / 2, (length - SUPPORT_DISC) / 2];
        const K = (w * long ** 3) / B;
        if (!(long > 0 && K <= 200)) return { value: null, how: '' };
        const reach = long * hangingStrip(K).reach;
        const value = (100 * ((r + reach) ** 2 - r ** 2)) / ((r + long) ** 2 - r ** 2);
        return { value, how: words.worked.drape(mm(long), K.toPrecision(3), mm(reach), `${value.toFixed(0)} %`) };
      }
      default:
        return { value: null, how: '' };
    }
  }
}
