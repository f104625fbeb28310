import { textField } from '../bench/fields.ts';
import { withOwnUnit } from '../bench/typed-length.ts';
import type { BagForm } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { type Bag, readQuantity, type Strap, strapFamily } from './core.ts';
import { written } from './lengths.ts';
import { distancesOf } from './place.ts';
import { words } from './words.ts';

const SIZES = ['length', 'width', 'shortest'] as const;
type Size = (typeof SIZES)[number];

export interface SizeHost {
  readonly form: () => BagForm;
  /** Takes the edited form into the bag, under these words in the history. */ readonly edit: (form: BagForm, what: string) => void;
  /** Puts the anchors somewhere else, m and as typed. Null, or why they cannot lie there. */ readonly put: (
    distance: number,
    written: string,
  ) => string | null;
}

/** Length and width of the strap and how far in its anchors are, changed in the bag itself when a field is left or Enter is pressed. */
export class StrapSize {
  readonly element: HTMLElement;
  private readonly fields;
  private strap = '';
  private bag: Bag | null = null;
  private units: UnitChoice = 'metric';
  constructor(private readonly host: SizeHost) {
    const field = (size: Size) =>
      textField(
        words.sizes[size],
        size === 'shortest' ? words.shortestHint : '',
        { report: () => undefined, done: () => this.take(size) },
        `hang-strap-${size}`,
      );
    const place = textField(words.place, words.dragHint, { report: () => undefined, done: () => this.takePlace() }, 'hang-place');
    this.fields = { length: field('length'), width: field('width'), shortest: field('shortest'), place };
    this.element = h(
      'div',
      { class: 'straps-size' },
      h('div', { class: 'field-pair' }, this.fields.length.element, this.fields.width.element),
      this.fields.shortest.element,
      this.fields.place.element,
    );
  }

  show(bag: Bag, strap: string, units: UnitChoice): void {
    const same = this.bag === bag && this.strap === strap;
    [this.bag, this.strap, this.units] = [bag, strap, units];
    const made = strapFamily(bag, strap)[0];
    for (const size of SIZES) {
      const { input, fault } = this.fields[size];
      if (document.activeElement !== input) input.value = this.writtenSize(made, size);
      if (!same) fault(null);
    }
    const { input, fault } = this.fields.place;
    if (document.activeElement !== input) input.value = this.placed();
    if (!same) fault(null);
  }

  /** '' where there is none: a strap without an adjuster. */
  private writtenSize(made: Strap | undefined, size: Size): string {
    const value = made?.[size];
    return value === undefined ? '' : written(value, this.units);
  }

  private placed(): string {
    return this.bag
      ? distancesOf(this.bag, this.strap)
          .map((d) => written(d, this.units))
          .join(words.and)
      : '';
  }

  /** Why the strap is too short for what it goes over. */
  refused(why: string | null): void {
    if (why !== null) this.fields.length.fault(why);
  }

  /** Why the anchors cannot lie where the hand wants them; null: they can. */
  placeFault(why: string | null): void {
    this.fields.place.fault(why);
  }

  private takePlace(): void {
    const { input, fault } = this.fields.place;
    if (input.value === this.placed()) {
      fault(null);
      return;
    }
    const whole = withOwnUnit(input.value, this.units);
    const read = readQuantity(whole, 'length');
    fault(read.ok && read.value > 0 ? this.host.put(read.value, whole) : words.expected.length(this.units));
  }

  private take(size: Size): void {
    const { input, fault } = this.fields[size];
    const made = this.bag && strapFamily(this.bag, this.strap)[0];
    const form = this.host.form();
    const entry = form.straps?.[this.strap];
    if (!made || !entry) return;
    const same = input.value.trim() === this.writtenSize(made, size);
    if (size === 'shortest' && !same && input.value.trim() === '') {
      const { shortest: _, ...without } = entry as Record<string, unknown>;
      fault(null);
      this.host.edit({ ...form, straps: { ...form.straps, [this.strap]: without as typeof entry } }, words.noAdjuster(this.strap));
      return;
    }
    const whole = withOwnUnit(input.value, this.units);
    const read = readQuantity(whole, 'length');
    const good = same || (read.ok && read.value > 0);
    const within = size !== 'shortest' || !read.ok || (read.value < made.length && read.value >= made.length / 2);
    fault(!good ? words.expected.length(this.units) : within || same ? null : words.expected.shortest);
    if (good && within && !same)
      this.host.edit({ ...form, straps: { ...form.straps, [this.strap]: { ...entry, [size]: whole } } }, words.sized(this.strap, words.sizes[size], whole));
  }
}
