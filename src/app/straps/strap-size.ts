import { textField } from '../bench/fields.ts';
import { withOwnUnit } from '../bench/typed-length.ts';
import type { BagForm } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { type Bag, formatInches, formatMm, readQuantity, strapFamily } from './core.ts';
import { words } from './words.ts';

const SIZES = ['length', 'width'] as const;
type Size = (typeof SIZES)[number];

/** Length and width of the strap, changed in the bag itself when a field is left or Enter is pressed. */
export class StrapSize {
  readonly element: HTMLElement;
  private readonly fields;
  private strap = '';
  private bag: Bag | null = null;
  private units: UnitChoice = 'metric';
  /** `change` takes the edited form into the bag, under these words in the history. */
  constructor(private readonly host: { readonly form: () => BagForm; readonly change: (form: BagForm, what: string) => void }) {
    const field = (size: Size) => textField(words.sizes[size], '', { report: () => undefined, done: () => this.take(size) }, `hang-strap-${size}`);
    this.fields = { length: field('length'), width: field('width') };
    this.element = h('div', { class: 'field-pair' }, this.fields.length.element, this.fields.width.element);
  }

  show(bag: Bag, strap: string, units: UnitChoice): void {
    [this.bag, this.strap, this.units] = [bag, strap, units];
    const made = strapFamily(bag, strap)[0];
    for (const size of SIZES) {
      const { input, fault } = this.fields[size];
      if (document.activeElement !== input) input.value = made ? this.written(made[size]) : '';
      fault(null);
    }
  }

  private written(m: number): string {
    return this.units !== 'metric' ? formatInches(m, 16) : formatMm(m, 1);
  }

  private take(size: Size): void {
    const { input, fault } = this.fields[size];
    const made = this.bag && strapFamily(this.bag, this.strap)[0];
    const form = this.host.form();
    const entry = form.straps?.[this.strap];
    if (!made || !entry || input.value === this.written(made[size])) return;
    const whole = withOwnUnit(input.value, this.units);
    const read = readQuantity(whole, 'length');
    if (!read.ok || !(read.value > 0)) {
      fault(words.expected.length);
      return;
    }
    this.host.change({ ...form, straps: { ...form.straps, [this.strap]: { ...entry, [size]: whole } } }, words.sized(this.strap, words.sizes[size], whole));
  }
}
