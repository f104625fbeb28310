import { selectField, textField } from '../bench/fields.ts';
import { meshEdge } from '../need/mesh-edge.ts';
import { words as asking } from '../need/words.ts';
import { h, refill, uniqueId } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import { text } from '../page/text.ts';
import type { Criterion, WrittenChoice } from './core.ts';
import type { ShelfValue } from './keeper.ts';
import type { Ask, Say } from './protocol.ts';
import { resultView } from './result.ts';
import { shelfRunner } from './runner.ts';
import { SettledStacks } from './settled-stacks.ts';
import { words } from './words.ts';

const w = words.choose;

export interface ChooseHost {
  readonly state: () => State;
  readonly shelf: () => ShelfValue;
  /** Puts a choice into the bag as an option of this name; its letter, or null where it could not be. */
  readonly make: (chosen: WrittenChoice, name: string) => string | null;
  readonly say: (line: string) => void;
}

const HOW_MANY = Array.from({ length: 10 }, (_, i) => String(i + 1));

/** "Choose from my shelf": what is asked, where the work is, what it came to. */
export class ChoosePanel {
  readonly element: HTMLElement;
  private readonly runner = shelfRunner();
  private readonly bagLine = h('p', { class: 'choose-bag' });
  private readonly status = h('p', { class: 'straps-status' });
  private readonly spoken = h('p', { class: 'away', role: 'status' });
  private readonly bar = h('progress', { class: 'choose-progress', max: 1, value: 0, hidden: true, 'aria-label': w.title });
  private readonly stale = h('p', { class: 'stale-note', hidden: true }, w.stale);
  private readonly place = h('div', {});
  private readonly made = h('p', { class: 'choose-made', role: 'status' });
  private readonly runButton = h('button', { type: 'button', class: 'plain strong', onclick: () => void this.run() }, w.run);
  private readonly stopButton = h('button', { type: 'button', class: 'plain', hidden: true, onclick: () => this.stop() }, w.stop);
  private readonly by;
  private readonly most;
  private readonly option;
  private readonly stance;
  private readonly bolt;
  private readonly mesh;
  private readonly boxes: Readonly<Record<'shell' | 'lining', HTMLInputElement>>;
  private readonly known = new SettledStacks();
  private found: { readonly say: Extract<Say, { kind: 'done' }>; readonly key: string } | null = null;
  private since = 0;
  private line = '';
  private fraction = 0;
  constructor(private readonly host: ChooseHost) {
    const list = (values: readonly string[]) => values.map((value) => ({ value, label: value }));
    const labels = (of: Readonly<Record<string, string>>) => Object.entries(of).map(([value, label]) => ({ value, label }));
    const touched = (): void => this.update();
    this.by = selectField(w.by, labels(w.bys), touched, 'choose-by');
    this.most = selectField(w.most, list(HOW_MANY), touched, 'choose-most');
    this.most.select.value = '3';
    this.option = selectField(w.option, [], touched, 'choose-option');
    this.stance = selectField(w.stance, [], touched, 'choose-stance');
    this.bolt = selectField(w.bolt, labels(w.bolts), touched, 'choose-bolt');
    this.mesh = textField(w.mesh, w.meshHint, { report: touched }, 'choose-mesh');
    const box = (label: string): { readonly input: HTMLInputElement; readonly element: HTMLElement } => {
      const id = uniqueId('keep'),
        input = h('input', { type: 'checkbox', id, onchange: touched });
      return { input, element: h('div', { class: 'need-check' }, input, h('label', { for: id }, label)) };
    };
    const [shell, lining] = [box(w.keepShell), box(w.keepLining)];
    this.boxes = { shell: shell.input, lining: lining.input };
    this.element = h(
      'section',
      { class: 'shelf-choose', 'aria-labelledby': 'choose-title' },
      h('h2', { id: 'choose-title' }, w.title),
      h('p', { class: 'bench-how' }, w.how),
      this.bagLine,
      h('div', { class: 'choose-fields' }, ...[this.by, this.most, this.stance, this.option].map((x) => x.element)),
      h('div', { class: 'choose-keep' }, shell.element, lining.element),
      h('details', { class: 'bench-more' }, h('summary', {}, w.more), h('div', { class: 'choose-fields' }, this.bolt.element, this.mesh.element)),
      h('div', { class: 'bench-run' }, this.runButton, this.stopButton, this.bar),
      this.status,
      this.spoken,
      this.stale,
      this.made,
      this.place,
    );
    setInterval(() => this.tick(), 500);
  }

  /** Everything from the state, the shelf and the choices. */
  update(): void {
    const { bag, columns, editing, preferences, stance } = this.host.state();
    refill(this.bagLine, w.bag(bag.name, text.controls.wants[bag.wanted]));
    const first = this.option.select.options.length === 0;
    this.option.offer(bag.options.map((o) => ({ value: o.name, label: columns.find((c) => c.option === o.name)?.letter.concat(': ', o.name) ?? o.name })));
    this.stance.offer(bag.stances.filter((s) => s.kind !== 'held').map((s) => ({ value: s.name, label: s.name })));
    if (first) {
      this.option.select.value = columns[editing]?.option ?? bag.options[0].name;
      this.stance.select.value = bag.stances.some((s) => s.name === stance && s.kind !== 'held') ? stance : this.stance.select.value;
    }
    this.stance.element.hidden = this.stance.select.options.length < 2;
    this.mesh.fault(this.edge === null ? w.meshFault : null);
    const empty = Object.keys(this.host.shelf().items).length === 0;
    this.runButton.setAttribute('aria-disabled', String(empty || this.since > 0));
    if (this.since === 0 && this.found === null && (empty || this.line === w.nothing)) this.tell(empty ? w.nothing : '');
    this.stale.hidden = this.found === null || this.found.key === this.key;
    if (this.found && this.place.dataset.units !== preferences.units) this.show();
  }

  private get edge(): number | null | undefined {
    return meshEdge(this.mesh.input.value);
  }

  private get asked(): Ask['options'] {
    const { edge } = this;
    return {
      option: this.option.select.value,
      stance: this.stance.select.value,
      by: this.by.select.value as Criterion,
      keep: (['shell', 'lining'] as const).filter((k) => this.boxes[k].checked),
      most: Number(this.most.select.value),
      bolt: this.bolt.select.value === 'soft' ? 'soft' : 'typical',
      ...(edge == null ? {} : { edgeLength: edge }),
    };
  }

  /** What the answer hangs on. Options that were added since have no part in it. */
  private get key(): string {
    const { bag } = this.host.state(),
      { option } = this.asked;
    const { options, stacks, materials: _, name: __, note: ___, parameters: ____, ...shape } = bag;
    const drawn = options.find((o) => o.name === option);
    const used = new Set([...Object.values(drawn?.stacks ?? {}), ...Object.values(drawn?.regions ?? {}), ...bag.straps.map((s) => s.stack)]);
    return JSON.stringify([shape, drawn, stacks.filter((s) => used.has(s.name)), this.host.shelf(), this.asked]);
  }

  private async run(): Promise<void> {
    if (this.since > 0) return;
    const shelf = this.host.shelf();
    if (Object.keys(shelf.items).length === 0) {
      this.tell(w.nothing, true);
      return;
    }
    if (this.edge === null) {
      this.mesh.input.focus();
      return;
    }
    const { bag } = this.host.state(),
      { key } = this,
      { option } = this.asked;
    // One option is enough for the search; the others would only be sent along.
    const own = { ...bag, options: bag.options.filter((o) => o.name === option) };
    this.running(true);
    refill(this.made);
    this.tell(w.starting, true);
    const options = this.asked,
      begun = this.since,
      known = await this.known.list();
    // Stopped, and perhaps asked again, meanwhile.
    if (this.since !== begun) return;
    this.runner.ask({ bag: own, shelf, options, known }, (say) => {
      if (say.kind === 'ready') this.tell(w.ready(say.stacks), true);
      else if (say.kind === 'stage') {
        this.line = w.running(say.run, say.stack);
        this.fraction = Math.max(this.fraction, say.fraction);
        this.tick();
      } else if (say.kind === 'kept') {
        this.known.add(say.kept);
      } else {
        const seconds = Math.round((performance.now() - this.since) / 1000);
        this.running(false);
        if (say.kind === 'done') {
          this.found = { say, key };
          this.show();
          this.tell(w.done(asking.time(seconds), say.report.settled.length), true);
        } else if (say.kind === 'failed') this.tell(w.failed(say.message), true);
        else this.tell(`${w.faults} ${say.faults.map((fault) => words.fault(fault.path, fault.got, fault.expected)).join('; ')}`, true);
        this.update();
      }
    });
  }

  private stop(): void {
    this.runner.stop();
    this.running(false);
    this.tell(w.stopped(this.known.size), true);
    this.update();
    this.runButton.textContent = w.goOn;
    this.runButton.focus();
  }

  private running(now: boolean): void {
    const held = document.activeElement === this.stopButton;
    this.since = now ? performance.now() : 0;
    this.fraction = 0;
    this.bar.hidden = !now;
    this.bar.value = 0;
    this.stopButton.hidden = !now;
    this.runButton.textContent = w.run;
    this.element.dataset.running = String(now);
    this.runButton.setAttribute('aria-disabled', String(now));
    if (held) this.runButton.focus();
  }

  private tick(): void {
    if (this.since === 0) return;
    const seconds = (performance.now() - this.since) / 1000;
    const left = this.fraction < 0.1 ? '' : asking.left(asking.time(seconds * (1 / this.fraction - 1)));
    this.bar.value = this.fraction;
    this.status.textContent = [this.line, `${Math.round(seconds)} ${text.units.s}`, left].filter((x) => x !== '').join(' · ');
  }

  /** aloud: to be heard as well. */
  private tell(line: string, aloud = false): void {
    this.line = line;
    this.status.textContent = line;
    if (aloud) this.spoken.textContent = line;
  }

  private show(): void {
    if (!this.found) return;
    const { units } = this.host.state().preferences;
    const { report } = this.found.say;
    this.place.dataset.units = units;
    this.place.replaceChildren(resultView(report, { units, make: (place) => this.make(place), saved: (name) => this.host.say(words.saved(name)) }));
  }

  private make(place: number): void {
    if (!this.found) return;
    const { chosen, report } = this.found.say;
    const written = chosen.find(([at]) => at === place)?.[1],
      stack = [...report.settled, ...(report.nearest ? [report.nearest.stack] : [])].find((s) => s.place === place);
    if (!written || !stack) return;
    const letter = this.host.make(written, stack.name.slice(0, 60).trim());
    this.made.replaceChildren(
      ...(letter === null
        ? [words.found.failed]
        : [h('strong', {}, `${stack.name}. `), `${words.found.made(letter)} `, h('a', { href: '#stand' }, words.found.look)]),
    );
    this.made.scrollIntoView({ block: 'nearest' });
  }
}
