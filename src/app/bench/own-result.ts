import { h, refill } from '../page/dom.ts';
import { rigidity, told, type UnitChoice } from '../page/format.ts';
import type { State } from '../page/store.ts';
import { formatGsm, formatOzYd2, type Three } from './core.ts';
import { size } from './dimensions.ts';
import { selectField } from './fields.ts';
import type { OwnFigures } from './protocol.ts';
import { sentence } from './sentence.ts';
import { words } from './words.ts';

export interface ResultWishes {
  save(): void;
  /** where: 'new', 'list' or the number of an option. */ use(where: string): void;
  bench(): void;
}

const own = words.swatch;
const gsm = (v: number): string => formatGsm(v, 1).replace('m2', 'm²');

/** What the readings come to, what limits them, and what can be done with it. */
export class OwnResult {
  readonly element = h('section', { class: 'own-result', 'aria-label': own.out });
  private readonly heading = h('h2', { tabindex: -1 }, own.out);
  private readonly body = h('div', {});
  private readonly note = h('p', { class: 'own-note', role: 'status' });
  private readonly where = selectField(own.where, [], () => {}, 'own where');
  private readonly actions: HTMLElement;
  private readonly after = h('p', { class: 'own-after', hidden: true });
  constructor(wishes: ResultWishes) {
    const button = (label: string, act: () => void, strong = false): HTMLElement =>
      h('button', { type: 'button', class: strong ? 'plain strong' : 'plain', onclick: act }, label);
    this.actions = h(
      'div',
      { class: 'own-actions', hidden: true },
      this.where.element,
      h(
        'div',
        { class: 'bench-run' },
        button(own.use, () => wishes.use(this.where.select.value), true),
        button(own.save, () => wishes.save()),
      ),
    );
    this.after.append(h('a', { href: '#stand' }, own.look), h('button', { type: 'button', class: 'link', onclick: () => wishes.bench() }, own.onBench));
    this.element.append(this.heading, this.body, this.actions, this.note, this.after);
    this.show(null, 'metric');
  }

  /** Takes the focus, so that a reader and a keyboard go on from what was worked out. */
  focus(): void {
    this.heading.focus();
  }

  /** Where it can be used in the bag there is. */
  offer(state: State): void {
    const shells = state.columns.map((c, i) => ({ value: String(i), label: own.shellOf(c.letter) }));
    const more = state.columns.length < 4 ? [{ value: 'new', label: own.newOption }] : [];
    this.where.offer([...more, ...shells, { value: 'list', label: own.listOnly }]);
  }

  /** `used`: it is in the bag now, so there is something to look at. */
  say(line: string, used = false): void {
    this.note.textContent = line;
    this.after.hidden = !used;
  }

  show(figures: OwnFigures | null, units: UnitChoice, problem: string = own.nothing): void {
    this.actions.hidden = figures === null;
    this.say('');
    if (!figures) {
      refill(this.body, h('p', { class: 'reason' }, problem));
      return;
    }
    const three = (name: string, values: readonly (string | null)[], key: string): HTMLElement =>
      h('tr', { 'data-row': key }, h('th', { scope: 'row' }, name), ...values.map((v) => h('td', {}, v ?? own.none)));
    const table = (label: string, rows: readonly HTMLElement[]): HTMLElement =>
      h(
        'table',
        { class: 'own-figures', 'aria-label': label },
        h('thead', {}, h('tr', {}, ...[own.columns.figure, own.columns.low, own.columns.mid, own.columns.high].map((t) => h('th', { scope: 'col' }, t)))),
        h('tbody', {}, ...rows),
      );
    const percent = `${Number((100 * figures.massError).toPrecision(2))} %`;
    const along = (three_: Three, show: (v: number) => string): string[] => three_.map(show);
    refill(
      this.body,
      h(
        'p',
        { class: 'readout-main' },
        h('span', { class: 'readout-name' }, own.areal),
        h('strong', { class: 'reading' }, gsm(figures.arealMass)),
        h('span', { class: 'small' }, ` ${formatOzYd2(figures.arealMass).replace('yd2', 'yd²')}, ${own.to(percent)}`),
      ),
      table(own.out, [
        ...figures.directions.map((d) =>
          three(
            own.alongs[d.direction],
            along(d.overhang, (v) => size(v, units)),
            `overhang ${d.direction}`,
          ),
        ),
        ...figures.directions.map((d) =>
          three(
            own.lengths[d.direction],
            along(d.overhang, (v) => size(v / 2, units)),
            `bending length ${d.direction}`,
          ),
        ),
      ]),
      h(
        'details',
        { class: 'own-engineer' },
        h('summary', {}, own.engineer),
        table(own.engineer, [
          three(own.d11, along(figures.D11, rigidity), 'D11'),
          three(own.d22, along(figures.D22, rigidity), 'D22'),
          figures.D66
            ? three(
                own.d66,
                figures.D66.map((v) => (v === null ? null : rigidity(v))),
                'D66',
              )
            : h('tr', { 'data-row': 'D66' }, h('th', { scope: 'row' }, own.d66), h('td', { colspan: 3 }, own.noTwist)),
        ]),
      ),
      figures.warnings.length > 0
        ? h('div', { class: 'own-warnings' }, h('h3', {}, own.warnings), h('ul', {}, ...figures.warnings.map((w) => h('li', {}, told(sentence(w), units)))))
        : '',
      figures.form.stacks ? h('p', { class: 'small' }, own.twistNote) : '',
    );
  }
}
