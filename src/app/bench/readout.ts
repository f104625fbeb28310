import { h, refill } from '../page/dom.ts';
import { elapsed, rigidity, told, type UnitChoice } from '../page/format.ts';
import { text } from '../page/text.ts';
import { fabricPercentile } from './core.ts';
import { overhangOf, size, small } from './dimensions.ts';
import type { Ready } from './entries.ts';
import { learnNotes } from './notes.ts';
import type { Reading } from './protocol.ts';
import { sentence } from './sentence.ts';
import { words } from './words.ts';

/** A figure of a test in its own unit; ratios as their bare number. */
function figure(r: Pick<Reading, 'unit'>, value: number, units: UnitChoice, sign = false): string {
  const plus = sign && value >= 0 ? '+' : sign ? '−' : '';
  const v = sign ? Math.abs(value) : value;
  if (r.unit === 'deg') return `${plus}${v.toFixed(2)}${words.units.degrees}`;
  if (r.unit === 'm') return `${plus}${sign ? small(v, units) : size(v, units)}`;
  if (r.unit === '%') return `${plus}${v.toFixed(1)} ${words.units.percent}`;
  return `${plus}${sign ? Number(v.toPrecision(2)) : v.toPrecision(4)}`;
}

/** Reading, theory and state of a run, for one line that is spoken. */
export function spoken(test: string, what: string, r: Reading, units: UnitChoice): string {
  return words.say(test, what, figure(r, r.reading, units), r.theory === null ? words.noTheory : figure(r, r.theory, units), words.statuses[r.status]);
}

/** The unit of what only an engineer asks for, as the core writes it. */
const RIGIDITY = 'uN.m';

const row = (name: string, ...value: (Node | string)[]): HTMLElement => h('div', { class: 'readout-row' }, h('dt', {}, name), h('dd', {}, ...value));

const WAYS = [
  { cut: 0, way: words.ways.warp },
  { cut: Math.PI / 2, way: words.ways.weft },
  { cut: Math.PI / 4, way: words.ways.bias },
] as const;

/** How a strip is cut, in words. */
const wayOf = (cut: number): string =>
  WAYS.find((w) => Math.abs(w.cut - cut) < 1e-9)?.way ?? words.ways.other(`${Number(((cut * 180) / Math.PI).toFixed(1))}${words.units.degrees}`);

/** What the sliders make of a cloth, in words. */
function changesOf({ sheet, own }: Ready): string[] {
  const [stiff, heavy] = [sheet.bending[0] / own.bending[0], sheet.arealMass / own.arealMass];
  const times = (v: number): string => words.times(String(Number(v.toPrecision(3))));
  return [...(Math.abs(stiff - 1) > 1e-9 ? [words.asStiff(times(stiff))] : []), ...(Math.abs(heavy - 1) > 1e-9 ? [words.asHeavy(times(heavy))] : [])];
}

/** Beside the picture: what theory says at once, then the solver's reading, how far apart they are, its state, and why. */
export class Readout {
  readonly element = h('div', { class: 'readout' });
  private readonly instant = h('section', { class: 'readout-instant', 'aria-label': words.byTheory });
  private readonly line = h('p', { class: 'readout-line' });
  private readonly result = h('div', { class: 'readout-result' });
  private readonly before = h('p', { class: 'stale-note', hidden: true }, words.before);
  private readonly beside = h('div', { class: 'readout-beside' });
  private readonly why = h('details', { class: 'readout-why' });
  private readonly finer;
  constructor(finer: () => void) {
    this.finer = h('button', { type: 'button', class: 'plain', hidden: true, onclick: finer }, words.finer);
    refill(this.result, h('p', { class: 'reason' }, words.waiting));
    this.element.append(this.instant, this.before, this.result, this.finer, this.line, this.beside, this.why, learnNotes());
    this.why.hidden = true;
  }

  /** What needs no solver: overhang at 41.5 degrees, bending length, and where it falls among published fabrics. */
  showInstant(ready: Ready | null, units: UnitChoice): void {
    if (!ready) {
      refill(this.instant, '');
      return;
    }
    const overhang = overhangOf(ready.sheet, ready.ask.cut);
    // Half the overhang at 41.5 degrees, of the strip that is cut: what the published figures are.
    const bendingLength = overhang / 2;
    const p = fabricPercentile(bendingLength);
    const place = p <= 0 ? words.limpest : p >= 100 ? words.stiffest : words.percentile(Math.round(p));
    const others = WAYS.filter(({ cut }) => Math.abs(cut - ready.ask.cut) > 1e-9);
    const name = ready.cloth?.name ?? words.froms.figures;
    refill(
      this.instant,
      h('h2', { class: 'readout-title' }, [name, ...changesOf(ready)].join(', ')),
      h(
        'p',
        { class: 'readout-main' },
        h('span', { class: 'readout-name' }, `${words.at}, ${wayOf(ready.ask.cut)}`),
        h('strong', { class: 'overhang reading' }, size(overhang, units)),
        h('span', { class: 'small' }, ` ${words.byTheory}`),
      ),
      h(
        'dl',
        {},
        row(words.bending, size(bendingLength, units)),
        ...others.map(({ cut, way }) => {
          const over = overhangOf(ready.sheet, cut);
          return row(way, words.bothWays(size(over, units), size(over / 2, units)));
        }),
      ),
      h(
        'div',
        { class: 'percentile', role: 'img', 'aria-label': `${place} ${words.fabrics}` },
        h('span', { class: 'percentile-end' }, words.limp),
        h(
          'span',
          { class: 'percentile-bar' },
          ...[10, 50, 90].map((at) => h('span', { class: 'percentile-mark', style: `left:${at}%` })),
          h('span', { class: 'percentile-at', style: `left:${Math.min(99.5, Math.max(0.5, p)).toFixed(1)}%` }),
        ),
        h('span', { class: 'percentile-end' }, words.stiff),
      ),
      h('p', { class: 'small' }, h('strong', { class: 'percentile-words' }, place), ` ${words.fabrics}`),
    );
  }

  /** A line on what goes on; '' for nothing. */
  say(line: string): void {
    if (this.line.textContent !== line) this.line.textContent = line;
  }

  working(since: number, steps: number): void {
    const time = elapsed(since);
    this.say(steps > 0 ? words.workingSteps(steps, time) : words.working(time));
  }

  /** A reading stands there. */
  get hasReading(): boolean {
    return !this.why.hidden;
  }

  stale(is: boolean): void {
    this.result.classList.toggle('stale', is);
    this.before.hidden = !is;
    this.beside.hidden = is;
  }

  show(r: Reading, ready: Ready, units: UnitChoice): void {
    const test = words.tests[r.test];
    const { ask, cloth } = ready;
    const long = r.more.length ?? r.more.diameter;
    const cut = `${Number(((ask.cut * 180) / Math.PI).toFixed(1))}${words.units.degrees}`;
    const settled = r.status === 'settled';
    // The disc's reading moves with its mesh by more than a strip's does.
    this.finer.hidden = r.test !== 'drape';
    const beside = r.beside.filter((line) => !line.startsWith('bending length'));
    const rows = [
      row(words.theory, h('span', { class: 'theory' }, r.theory === null ? words.noTheory : figure(r, r.theory, units))),
      ...(r.error === null ? [] : [row(words.error, h('span', { class: 'error' }, figure(r, r.error, units, true)))]),
      row(words.status, h('strong', {}, words.statuses[r.status])),
      row(words.strip, r.test === 'drape' ? words.discOf(size(long, units)) : words.stripOf(size(long, units), cut)),
      ...(r.test === 'drape' ? [row(words.folds, words.foldsNote(r.more.folds))] : []),
    ];
    refill(
      this.result,
      h('h3', { class: 'readout-title' }, words.tested(test.title)),
      h(
        'p',
        { class: 'readout-main' },
        h('span', { class: 'readout-name' }, test.figure),
        h('strong', { class: 'reading tested' }, figure(r, r.reading, units)),
        test.of ? h('span', { class: 'small' }, ` ${test.of}`) : '',
      ),
      settled ? '' : h('p', { class: 'field-fault' }, words.notRead),
      h('dl', {}, ...rows),
    );
    refill(
      this.beside,
      ...beside.filter((line) => !line.includes(RIGIDITY)).map((line) => h('p', { class: 'small' }, told(sentence(line), units))),
      test.still ? h('p', { class: 'small' }, test.still) : '',
    );
    this.why.hidden = false;
    refill(
      this.why,
      h('summary', {}, words.why),
      h(
        'dl',
        {},
        row(words.what, r.quantity),
        row(words.formula, h('code', {}, r.formula)),
        row(words.source, r.source),
        row(words.solved, words.residual(r.residual.toExponential(1))),
        row(words.kind, words.meshOf(r.test === 'drape' ? '' : words.kinds[ask.kind], size(ask.mesh, units), r.vertices).replace(/^, /, '')),
        ...(Number.isFinite(r.load) ? [row(words.load, String(Number(r.load.toPrecision(4))))] : []),
        row(
          words.rests,
          cloth ? `${cloth.story} ` : words.froms.figures,
          ...(cloth ? [h('span', { class: 'chip', title: text.table.evidenceHint[cloth.evidence] }, text.table.evidence[cloth.evidence])] : []),
          h('br', {}),
          h(
            'span',
            { class: 'small' },
            `D11 ${rigidity(ready.sheet.bending[0])}, D22 ${rigidity(ready.sheet.bending[1])}, D66 ${rigidity(ready.sheet.bending[3])}`,
          ),
        ),
      ),
      ...beside.filter((line) => line.includes(RIGIDITY)).map((line) => h('p', { class: 'small' }, sentence(line))),
    );
  }
}
