import { saveFile } from '../page/browser-storage.ts';
import { h } from '../page/dom.ts';
import * as f from '../page/format.ts';
import {
  type Bought,
  CAUTIONS,
  type ChooseReport,
  type ChosenCut,
  chooseCsv,
  choosePlot,
  HANGING_CAUTIONS,
  overhangNeeded,
  type SettledStack,
} from './core.ts';
import { words } from './words.ts';

const w = words.found;

export interface ResultHost {
  readonly units: f.UnitChoice;
  /** Makes the stack at this place an option of the bag. */ readonly make: (place: number) => void;
  readonly saved: (name: string) => void;
}

const [YARD, FOOT] = [0.9144, 0.3048];

/** "0.62 m of canvas (0.1 m more than you have)"; yards and square feet to whoever reads inches. */
function cutWords({ item, area, bought }: ChosenCut, units: f.UnitChoice): string {
  const figure = (v: number): string => String(Number(v.toFixed(v < 0.1 ? 3 : 2)));
  const shown = (v: number, unit: Bought['unit']): string => {
    if (unit !== 'm' && unit !== 'm2') return v === 1 ? `1 ${unit.slice(0, -1)}` : `${figure(v)} ${unit}`;
    if (units === 'metric') return `${figure(v)} ${unit === 'm' ? 'm' : 'm²'}`;
    return unit === 'm' ? `${figure(v / YARD)} yd` : `${figure(v / (FOOT * FOOT))} ft²`;
  };
  if (bought === null) return w.of(shown(area, 'm2'), item);
  const amount = (v: number): string => shown(v, bought.unit);
  return `${w.of(amount(bought.amount), item)}${bought.short !== null && bought.short >= 5e-4 ? w.short(amount(bought.short)) : ''}`;
}

function boltWords(s: SettledStack, bolt: ChooseReport['bolt']): string {
  if (!s.whole) return `${bolt} ${s.word}`;
  const { byBand, word } = s.whole;
  const each = (['low', 'mid', 'high'] as const).flatMap((b) => (byBand[b] === undefined ? [] : [`${w.bolts[b]} ${byBand[b]}`])).join(' · ');
  return word === 'near its limit' ? `${each}; ${w.nearLimit}` : each;
}

const money = (cost: number | null, currency: string): string => (cost === null ? '–' : `${cost.toFixed(2)}${currency === '' ? '' : ` ${currency}`}`);

function tableOf(r: ChooseReport, rows: readonly SettledStack[], host: ResultHost): HTMLElement {
  const ranked = r.ranked.length > 0;
  const heads = Object.entries(w.heads).map(([key, head]) => (head === '' ? h('td', { class: `found-${key}` }) : h('th', { scope: 'col' }, head)));
  const cell = (head: string, ...inside: (Node | string)[]): HTMLElement => h('td', { 'data-head': head }, ...inside);
  return h(
    'div',
    { class: 'straps-scroll found-scroll', tabindex: 0, role: 'region', 'aria-label': ranked ? w.table : w.nearTable },
    h(
      'table',
      { class: 'found-table' },
      h('caption', { class: 'away' }, ranked ? w.table : w.nearTable),
      h('thead', {}, h('tr', {}, ...heads)),
      h(
        'tbody',
        {},
        ...rows.map((s, i) =>
          h(
            'tr',
            { 'data-place': s.place },
            h('td', { class: 'found-rank' }, ranked ? String(i + 1) : ''),
            h('th', { scope: 'row' }, h('strong', {}, s.name), h('small', {}, w.cut(s.cut.map((c) => cutWords(c, host.units)).join(', ')))),
            cell(w.heads.word, boltWords(s, r.bolt)),
            cell(w.heads.margin, s.margin === null ? '–' : f.percent(s.margin)),
            cell(w.heads.weight, f.mass(s.weight)),
            cell(w.heads.cost, money(s.cost, r.currency)),
            cell(w.heads.bulk, f.lengthText(s.bulk, host.units)),
            cell(w.heads.layers, String(s.layers)),
            h('td', {}, h('button', { type: 'button', class: 'plain', 'aria-label': `${w.make}: ${s.name}`, onclick: () => host.make(s.place) }, w.make)),
          ),
        ),
      ),
    ),
  );
}

/** The plot, whose marks are buttons: by pointer, or by Tab and Enter. */
function plotOf(r: ChooseReport, host: ResultHost): HTMLElement {
  const box = h('div', { class: 'found-plot' });
  // Drawn by the core, which escapes the names in it.
  box.innerHTML = choosePlot(r);
  const drawing = box.querySelector('svg');
  drawing?.setAttribute('role', 'group');
  for (const mark of box.querySelectorAll<SVGGElement>('g.stack')) {
    const stack = r.settled.find((s) => s.place === Number(mark.dataset.place));
    if (!stack) continue;
    mark.setAttribute('tabindex', '0');
    mark.setAttribute('role', 'button');
    // A rank that is drawn on it belongs to its name.
    const rank = r.ranked.findIndex((s) => s.place === stack.place) + 1;
    mark.setAttribute('aria-label', w.point(rank > 0 ? `${rank}. ${stack.name}` : stack.name, stack.word, f.mass(stack.weight)));
    mark.addEventListener('click', () => host.make(stack.place));
    mark.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      host.make(stack.place);
    });
  }
  return h('figure', { class: 'found-figure' }, h('figcaption', {}, h('strong', {}, w.plot), ' ', w.plotHow), box);
}

/** What the nearest would need, in the reader's unit; '' where nothing was found out. */
function needOf(r: ChooseReport, units: f.UnitChoice): string {
  const need = r.nearest?.need,
    found = need?.stances[0]?.mid,
    lead = need?.stacks[0];
  if (!need || !found || !lead) return '';
  if (!found.least) return found.met ? '' : w.noNeed;
  return w.need(f.lengthText(overhangNeeded(lead, found.least.met.factor, need.mass), units), f.lengthText(lead.overhang, units));
}

/** Everything that a choice came to. */
export function resultView(r: ChooseReport, host: ResultHost): HTMLElement {
  const near = r.nearest;
  const lead =
    near !== null
      ? [w.none, w.nearest(near.stack.name, near.stack.word), needOf(r, host.units)]
      : r.ranked.length === 0
        ? [w.noRest]
        : [w.some(r.ranked.length, words.choose.bys[r.by])];
  const rows = near ? [near.stack] : r.ranked;
  const { softer, stiffer, behind } = r.ruledOut;
  const ruled = [softer > 0 ? w.softer(softer) : '', stiffer > 0 ? w.stiffer(stiffer) : '', behind > 0 ? w.behind(behind) : ''].filter((x) => x !== '');
  const cautions = r.hung ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS;
  return h(
    'div',
    { class: 'found' },
    h('p', { class: 'found-lead' }, lead.filter((x) => x !== '').join(' ')),
    rows.length > 0 ? tableOf(r, rows, host) : null,
    near === null && r.ranked.length > 0 && r.ranked.length < r.asked ? h('p', { class: 'found-line' }, w.onlySome(r.ranked.length, r.asked)) : null,
    r.settled.some((s) => s.margin !== null) ? plotOf(r, host) : null,
    h(
      'p',
      { class: 'found-line' },
      [
        w.settled(r.settled.length, r.stacks),
        ruled.length > 0 ? w.ruled(ruled.join(', ')) : '',
        w.mesh(f.lengthText(r.edgeLength, host.units), r.vertices),
        w.area,
      ]
        .filter((x) => x !== '')
        .join(' '),
    ),
    ...r.notes.map((note) => h('p', { class: 'found-line' }, note)),
    h(
      'div',
      { class: 'sheet-row' },
      h('button', { type: 'button', class: 'plain', onclick: () => host.saved(saveFile(r.bag, chooseCsv(r), 'choice', 'csv')) }, w.csv),
    ),
    h('ul', { class: 'need-cautions' }, ...cautions.map((c) => h('li', {}, c))),
  );
}
