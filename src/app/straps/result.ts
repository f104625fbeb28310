import { h, refill } from '../page/dom.ts';
import { angle, pull as asWeight, length, told, type UnitChoice } from '../page/format.ts';
import { AnchorHandles, type HandlesHost } from './anchor-handles.ts';
import {
  type AnchorTrack,
  anchorPlace,
  type Bag,
  changesWords,
  HANGING_CAUTIONS,
  type HangReport,
  hangSvg,
  hereWords,
  insideWords,
  lookWords,
  type Recommendation,
  recommend,
  type SweepAnchor,
  type SweepStep,
  sagWords,
} from './core.ts';
import { written } from './lengths.ts';
import { pullPicture } from './pull-picture.ts';
import { degrees, distance, drawnAt, inLoad, levelSentence, pull, reasonOf, shown, stateOf } from './result-words.ts';
import { words } from './words.ts';

const NO_TRACKS: readonly AnchorTrack[] = [];
/** Size of the core's drawing of a hung bag, px. */
const DRAWN = { width: 420, height: 460 };

/** The bag as it hangs, the table of distances to choose from, the pulls at the one chosen, and the plot. */
export class ResultView {
  readonly element = h('div', { class: 'straps-result' });
  private readonly plot = h('figure', { class: 'straps-plot', tabindex: 0, role: 'group', 'aria-label': words.plot });
  private readonly sentence = h('p', { class: 'straps-level', 'aria-live': 'polite' });
  private readonly changes = h('div', { class: 'straps-changes', hidden: true });
  private readonly table = h('table', { class: 'straps-table' });
  private readonly hung = h('figure', { class: 'straps-hung' });
  private readonly drawing = h('div');
  private readonly handles: AnchorHandles;
  private readonly readout = h('div', { class: 'straps-readout', 'aria-live': 'polite' });
  private report: HangReport | null = null;
  /** The one that was hung. */ private bag: Bag | null = null;
  private units: UnitChoice = 'metric';
  /** -1: as drawn. */ private index = -1;
  /** Distance that the reader chose, m; -1: as drawn; null: what is recommended. */ private picked: number | null = null;
  private best: Recommendation | null = null;
  private shownPicture = '';
  /** Where both anchors of the bag are now, m; null where its ends lie unlike. */ private now: number | null = null;
  constructor(
    private readonly chose: (step: number) => void,
    host: HandlesHost,
  ) {
    this.handles = new AnchorHandles(host);
    this.hung.append(this.drawing, this.handles.element);
    this.element.append(
      this.sentence,
      this.changes,
      h(
        'div',
        { class: 'straps-chosen' },
        this.hung,
        h(
          'div',
          { class: 'straps-figures' },
          h('div', { class: 'straps-scroll', tabindex: 0, role: 'group', 'aria-label': words.table }, this.table),
          this.readout,
        ),
      ),
      this.plot,
    );
    this.element.hidden = true;
  }

  get chosen(): number {
    return this.index;
  }

  /** Other figures are coming: what the reader chose among the old ones is forgotten. */
  begin(): void {
    this.picked = null;
  }

  /** `coming`: not every distance is hung yet. */
  show(report: HangReport | null, bag: Bag | null, units: UnitChoice, coming: boolean, now: number | null): void {
    [this.bag, this.now] = [bag, now];
    const fresh = report !== this.report;
    const drawn = fresh || units !== this.units;
    [this.report, this.units] = [report, units];
    this.element.hidden = report === null;
    if (!report) return;
    const { anchors, changes } = report;
    this.best = recommend(anchors);
    if (fresh) this.index = this.chosenIn(report);
    const at = (m: number): string => distance(m, units);
    refill(this.sentence, coming ? words.soFar : '', degrees(hereWords(anchors, at, this.best)), h('small', {}, levelSentence(anchors, units)));
    this.changes.hidden = !changes || changes.length === 0;
    refill(this.changes, h('p', {}, words.changes), h('ul', {}, ...changesWords(changes ?? [], anchors.limits).map((w) => h('li', {}, told(w, units)))));
    if (drawn) {
      // The core's own drawing, every name in it escaped there.
      this.plot.innerHTML = degrees(inLoad(hangSvg(report, units !== 'metric' ? 'in' : 'mm', 'weight'), units));
      const drawing = this.plot.querySelector('svg');
      drawing?.setAttribute('role', 'img');
      drawing?.setAttribute('aria-label', words.plot);
    }
    this.fill();
  }

  private chosenIn({ anchors }: HangReport): number {
    if (this.picked === null) return this.best?.index ?? -1;
    return this.picked < 0 ? -1 : anchors.steps.findIndex((s) => s.distance === this.picked);
  }

  private stepAt(i: number): SweepStep {
    const { anchors } = this.report!;
    return i < 0 ? anchors.drawn.step : anchors.steps[i];
  }

  /** Inches with millimetres under them, or millimetres alone. */
  private drop({ drop }: SweepStep): Node | string {
    if (drop === null) return words.missing;
    const { main, beside } = length(drop, this.units);
    return beside ? h('span', {}, main, h('small', {}, beside)) : main;
  }

  private fill(): void {
    const { anchors } = this.report!;
    const { heads } = words;
    const focused = this.table.contains(document.activeElement);
    const row = (i: number, label: string): HTMLElement => {
      const s = this.stepAt(i);
      const input = h('input', { type: 'radio', name: 'straps-distance', value: i, checked: i === this.index, disabled: s.status === 'refused' });
      input.addEventListener('change', () => {
        this.index = i;
        this.picked = i < 0 ? -1 : anchors.steps[i].distance;
        this.fill();
        this.chose(i);
      });
      const state = stateOf(s, anchors.limits);
      const cells = [
        shown(s.tilt, (v) => angle(v)),
        shown(s.mouthSag, (v) => `${(100 * v).toFixed(1)} %`),
        this.drop(s),
        shown(s.force, (v) => asWeight(v, this.units)),
        shown(s.inward, (v) => asWeight(v, this.units)),
        i === this.best?.index ? words.state.recommended(state) : state,
      ];
      return h(
        'tr',
        { class: i === this.index ? 'chosen' : s.level ? 'level' : null },
        h('th', { scope: 'row' }, h('label', {}, input, ` ${label}`)),
        // Why something hangs nowhere is read in its row: a title is out of reach of fingers and keys.
        ...cells.map((c, k) =>
          h('td', {}, c, k === cells.length - 1 && s.status !== 'settled' && s.reason ? h('p', { class: 'faint small' }, reasonOf(s, this.units)) : null),
        ),
      );
    };
    this.table.replaceChildren(
      h('caption', {}, words.table),
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          ...[heads.distance, heads.tilt, heads.mouthSag, heads.drop, heads.force, heads.inward, heads.state].map((t) => h('th', { scope: 'col' }, t)),
        ),
      ),
      h('tbody', {}, row(-1, words.drawn(drawnAt(anchors, this.units))), ...anchors.steps.map((s, i) => row(i, distance(s.distance, this.units)))),
    );
    if (focused) this.table.querySelector<HTMLInputElement>('input:checked')?.focus();
    this.tell();
  }

  /** Where the finished corner of a boxed bag lies, from which a maker measures the finished bag. */
  private cornerNote(): HTMLElement | null {
    const places = this.report!.anchors.drawn.places.flatMap((p) => (p.fromCorner === null ? [] : [p.fromCorner]));
    const apart = [...new Set(places.map((d) => distance(d, this.units)))];
    return apart.length === 0 ? null : h('p', { class: 'faint' }, words.fromCorner(apart.join(words.and)));
  }

  /** Left or right, as the panel is seen from its face; both ends of a strap follow one another. */
  private sideOf(a: SweepAnchor, i: number): string {
    const strap = this.bag?.straps.find((s) => s.name === a.strap);
    const first = this.report!.anchors.drawn.step.anchors.findIndex((other) => other.strap === a.strap);
    return this.bag && strap ? words.sides[anchorPlace(this.bag, strap, i === Math.max(0, first) ? 0 : 1).side] : a.strap;
  }

  /** A strap with an adjuster at its shortest; null without one. */
  private shortest(): HTMLElement | null {
    const { shortest: step, limits, strap } = this.report!.anchors;
    const length = this.bag?.straps.find((s) => s.name === strap)?.shortest;
    if (!step || length === undefined) return null;
    const long = written(length, this.units);
    const known = step.status === 'settled' && step.drop !== null && step.force !== null;
    const told = known
      ? words.shortest(long, written(step.drop!, this.units), asWeight(step.force!, this.units), stateOf(step, limits))
      : words.shortestNot(long, reasonOf(step, this.units));
    return h('p', {}, told);
  }

  /** The largest pull taken apart as two drawings; null where there is none. */
  private parts({ anchors }: SweepStep): HTMLElement | null {
    if (anchors.length === 0) return null;
    const most = anchors.reduce((a, b) => (b.force > a.force ? b : a));
    const { side, front, words: told } = pullPicture(most);
    const drawn = [side, front].map((svg, i) => {
      const one = h('div', {}, h('p', { class: 'small' }, told[i]));
      one.insertAdjacentHTML('afterbegin', svg);
      return one;
    });
    return h('figure', { class: 'straps-parts' }, h('figcaption', {}, words.parts.name), ...drawn);
  }

  /** The pulls at every anchor, and the stitching beside them. */
  private tell(): void {
    const { anchors, stitching } = this.report!;
    const step = this.stepAt(this.index);
    const title = this.index < 0 ? words.chosenDrawn : words.chosen(distance(anchors.steps[this.index].distance, this.units));
    const pulls = step.anchors.map((a, i) =>
      h('li', {}, words.pull(this.sideOf(a, i), a.panel, pull(a.force), words.peel(pull(Math.abs(a.peel)), a.peel >= 0), pull(a.inward), angle(a.legAngle))),
    );
    const legs = step.legs.map((l) => h('li', {}, words.leg(l.strap, pull(l.tension)), l.frictionHolds > 0 ? words.grip(pull(l.frictionHolds)) : ''));
    const reference = stitching?.reference
      ? words.stitching(written(stitching.reference.row, this.units), asWeight(stitching.reference.strength, this.units), stitching.reference.source)
      : stitching
        ? words.unstitched
        : '';
    // The core's own drawing, every name in it escaped there.
    const picture = step.picture ?? '';
    if (this.shownPicture !== picture + this.units) {
      this.drawing.innerHTML = degrees(picture);
      for (const place of this.drawing.querySelectorAll<SVGElement>('[data-pull] text'))
        place.textContent = asWeight(Number((place.parentNode as SVGElement).dataset.pull), this.units);
      this.shownPicture = picture + this.units;
    }
    this.hung.hidden = picture === '';
    this.handles.show({ tracks: step.tracks ?? NO_TRACKS, ...DRAWN }, this.units, this.now);
    refill(
      this.readout,
      h('h3', {}, title),
      step.reason ? h('p', {}, reasonOf(step, this.units)) : null,
      h('p', {}, words.inside(told(insideWords(anchors), this.units))),
      step.force === null ? null : h('p', {}, words.largest(asWeight(step.force, this.units))),
      this.shortest(),
      this.cornerNote(),
      this.parts(step),
      step.anchors.length === 0 ? null : h('details', {}, h('summary', {}, words.pulls), h('ul', {}, ...pulls, ...legs)),
      reference ? h('p', { class: 'faint' }, reference) : null,
      h(
        'p',
        { class: 'faint' },
        words.limits(angle(anchors.limits.tilt), `${Number((100 * anchors.limits.mouthSag).toFixed(1))} %`, lookWords(anchors.wanted)),
      ),
      ...[sagWords([anchors.drawn.step, ...anchors.steps])].filter((w) => w !== '').map((w) => h('p', { class: 'faint' }, told(w, this.units))),
      h('p', { class: 'faint' }, words.note(written(anchors.edgeLength, this.units))),
      ...HANGING_CAUTIONS.map((c) => h('p', { class: 'caution' }, c)),
    );
  }
}
