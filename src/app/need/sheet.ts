import '../style/starts.css';
import '../style/bench-fields.css';
import '../style/need.css';
import { textField } from '../bench/fields.ts';
import { inputKey } from '../line-up/columns.ts';
import { figuresOf } from '../line-up/figures.ts';
import { h, uniqueId } from '../page/dom.ts';
import { meshEdge } from '../page/mesh-edge.ts';
import { showSheet } from '../page/sheet-dialog.ts';
import type { State } from '../page/store.ts';
import { text } from '../page/text.ts';
import { answerOf, span } from './answer.ts';
import { answerView } from './answer-view.ts';
import { CAUTIONS, HANGING_CAUTIONS, type NeedOptions, type NeedReport } from './core.ts';
import type { Say } from './protocol.ts';
import { needRunner } from './runner.ts';
import { words } from './words.ts';

/** Answers of this visit by everything they depend on. */
const known = new Map<string, NeedReport>();
const MOST_KNOWN = 40;

/** Kept between two sheets: an idle worker answers sooner than a new one. */
const runner = needRunner();
let shown: HTMLDialogElement | null = null;

/** What is asked beyond this stance with all panels together; as last chosen while the page is open. */
const wishes = { eachPanel: false, grows: false, everyStance: false };
let meshTyped = '';

/** Opens the sheet that says what an option would need, and asks at once. Closing it ends the search. */
export function showNeed(state: State, option: string): void {
  if (shown?.open) return;
  const { bag, preferences, stance } = state,
    { units } = preferences;
  const column = state.columns.find((c) => c.option === option);
  // What the wall hangs over now: what is being tried is told by it.
  const overhang = column?.result ? (figuresOf(column.result).wall?.overhang ?? null) : null;
  const stances = bag.stances.filter((s) => s.kind !== 'held');
  let since = 0;

  const status = h('p', { class: 'need-status' }),
    spoken = h('p', { class: 'away', role: 'status' });
  const bar = h('progress', { class: 'need-progress', max: 1, value: 0, 'aria-label': words.title });
  const answer = h('div', { class: 'need-place' });
  const stop = h('button', { type: 'button', class: 'plain', onclick: () => halt() }, words.stop);
  const again = h('button', { type: 'button', class: 'plain strong', onclick: () => ask() }, words.again);
  const mesh = textField(
    words.meshEdge,
    words.meshHint,
    {
      report: (value) => {
        meshTyped = value;
        mesh.fault(meshEdge(value) === null ? words.meshFault : null);
        mark();
      },
    },
    'need-mesh',
  );
  mesh.input.value = meshTyped;
  const box = (key: keyof typeof wishes, label: string): HTMLElement => {
    const id = uniqueId('need');
    const input = h('input', { type: 'checkbox', id, 'data-need': key, checked: wishes[key] });
    input.addEventListener('change', () => {
      wishes[key] = input.checked;
      mark();
    });
    return h('div', { class: 'need-check' }, input, h('label', { for: id }, label));
  };
  const dialog = h(
    'dialog',
    { class: 'starts-sheet need-sheet', 'aria-labelledby': 'need-title' },
    h(
      'div',
      { class: 'starts-head' },
      h('h2', { id: 'need-title' }, words.title),
      h('button', { type: 'button', class: 'plain', onclick: () => dialog.close() }, words.close),
    ),
    h(
      'p',
      { class: 'starts-how' },
      words.asked(column ? text.table.option(column.letter, column.title) : option, words.stance(stance), text.controls.wants[bag.wanted]),
    ),
    h(
      'fieldset',
      { class: 'need-more' },
      h('legend', { class: 'away' }, words.more),
      box('eachPanel', words.eachPart),
      box('grows', words.weighs),
      stances.length > 1 ? box('everyStance', words.everyStance) : null,
      h('details', {}, h('summary', {}, words.finest), mesh.element),
      again,
    ),
    h('div', { class: 'need-run' }, bar, status, stop),
    spoken,
    answer,
    h('p', { class: 'need-how' }, words.how),
  );

  const options = (): Omit<NeedOptions, 'onProgress'> => ({
    option,
    stance: wishes.everyStance && stances.length > 1 ? 'all' : stance,
    wanted: bag.wanted,
    eachPanel: wishes.eachPanel,
    mass: wishes.grows ? 'grows' : 'stays',
    ...(meshEdge(meshTyped) == null ? {} : { edgeLength: meshEdge(meshTyped)! }),
  });
  const keyOf = (asked: object): string => {
    const of = stances.length > 1 && wishes.everyStance ? stances.map((s) => s.name) : [stance];
    return JSON.stringify([of.map((s) => inputKey(bag, option, s, 'quick')), asked]);
  };
  let asked = '';
  /** What is chosen is not what was answered: it can be asked again. */
  const mark = (): void => {
    again.hidden = runner.running || meshEdge(meshTyped) === null || keyOf(options()) === asked;
  };
  const running = (now: boolean): void => {
    since = now ? performance.now() : 0;
    stop.hidden = !now;
    bar.hidden = !now;
    dialog.dataset.running = String(now);
    mark();
  };
  const told = (line: string): void => {
    status.textContent = line;
    spoken.textContent = line;
  };
  const show = (report: NeedReport): void => {
    const hung = report.stances.some((s) => s.hung);
    const made = answerOf(report, units);
    const shelf = h('a', { href: '#shelf', onclick: () => dialog.close() }, words.shelf);
    answer.replaceChildren(answerView(made, units, hung ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS, shelf));
    spoken.textContent = made.parts.map((p) => `${p.title}: ${p.lead}`).join(' ');
  };
  const tick = (say: Extract<Say, { kind: 'stage' }>): void => {
    const { factor, band, alone, finer, fraction } = say.at;
    const what =
      overhang === null || alone !== null ? words.tryingTimes(String(Number(factor.toPrecision(2)))) : words.trying(span(overhang * Math.cbrt(factor), units));
    const beside = [band === 'low' ? words.soft : '', finer ? words.finer : '', alone ? words.alone(alone.join(', ')) : ''].filter((w) => w !== '');
    const left = fraction < 0.1 ? '' : words.left(words.time(((performance.now() - since) / 1000) * (1 / fraction - 1)));
    bar.value = Math.max(bar.value, fraction);
    status.textContent = `${[what, ...beside].join(', ')} · ${[words.time((performance.now() - since) / 1000), left].filter((w) => w !== '').join(', ')}`;
  };

  const ask = (): void => {
    const question = options(),
      key = keyOf(question);
    asked = key;
    const before = known.get(key);
    if (before) {
      told(words.before);
      show(before);
      mark();
      return;
    }
    bar.value = 0;
    told(words.starting);
    runner.ask({ bag, options: question }, (say) => {
      if (say.kind === 'stage') return tick(say);
      const seconds = Math.max(1, Math.round((performance.now() - since) / 1000));
      // The button that had the focus goes.
      const held = document.activeElement === stop;
      if (say.kind !== 'need') asked = '';
      running(false);
      if (held) dialog.querySelector<HTMLElement>('.starts-head button')!.focus();
      if (say.kind === 'need') {
        if (known.size >= MOST_KNOWN) known.delete(known.keys().next().value!);
        known.set(key, say.report);
        told(words.done(seconds));
        return show(say.report);
      }
      answer.replaceChildren();
      told(say.kind === 'failed' ? words.failed(say.message) : `${words.faults} ${say.faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`).join('; ')}`);
    });
    running(true);
  };
  const halt = (): void => {
    runner.stop();
    asked = '';
    running(false);
    told(answer.childElementCount > 0 ? words.stoppedOld : words.stopped);
    again.focus();
  };
  dialog.addEventListener('close', () => runner.stop());
  shown = dialog;
  showSheet(dialog);
  running(false);
  ask();
}
