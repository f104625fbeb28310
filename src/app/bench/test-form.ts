import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { segmentedRow } from '../page/segmented.ts';
import type { Cloth } from './cloths.ts';
import { formatGsm, ownMesh, type SwatchTestName } from './core.ts';
import { size } from './dimensions.ts';
import { changed, type Faults, type Field as FieldName, MESH_KINDS, type Ready, type TestEntry } from './entries.ts';
import { type Field, selectField, textField } from './fields.ts';
import { MaterialBox } from './material-box.ts';
import { slider } from './slider.ts';
import { words } from './words.ts';

export interface TestWishes {
  change(part: Partial<TestEntry>): void;
  run(): void;
  stop(): void;
}

/** The column of choices: which test, what is on the bench, its sizes, and two sliders. */
export class TestForm {
  readonly element: HTMLElement;
  private readonly test = selectField(
    words.test,
    (Object.keys(words.tests) as SwatchTestName[]).map((value) => ({ value, label: words.tests[value].title })),
    (v) => this.wishes.change({ test: v as SwatchTestName }),
    'test',
  );
  private readonly how = h('p', { class: 'bench-how' });
  private readonly box: MaterialBox;
  private readonly from;
  private readonly band;
  private readonly engineer: HTMLDetailsElement;
  private readonly figures: HTMLElement;
  private readonly kind;
  private readonly fields: Readonly<Record<'mass' | 'rigidity' | 'inPlane' | 'length' | 'mesh' | 'cut', Field>>;
  private readonly stiffer;
  private readonly heavier;
  private readonly runButton: HTMLButtonElement;
  private readonly stopButton: HTMLButtonElement;
  constructor(private readonly wishes: TestWishes) {
    const typed = (key: 'mass' | 'rigidity' | 'inPlane' | 'length' | 'mesh' | 'cut', label: string, hint: string): Field =>
      textField(label, hint, { report: (value) => wishes.change({ [key]: value }) }, key);
    this.fields = {
      mass: typed('mass', words.mass, words.massHint),
      rigidity: typed('rigidity', words.rigidity, ''),
      inPlane: typed('inPlane', words.inPlane, words.inPlaneHint),
      length: typed('length', words.length, ''),
      mesh: typed('mesh', words.mesh, ''),
      cut: typed('cut', words.cut, words.cutHint),
    };
    const row = <T extends string>(legend: string, labels: Readonly<Record<T, string>>, choose: (v: T) => void): ReturnType<typeof segmentedRow<T>> =>
      segmentedRow(
        legend,
        (Object.keys(labels) as T[]).map((value) => ({ value, label: labels[value] })),
        '' as T,
        choose,
      );
    this.from = row(words.from, words.froms, (from: TestEntry['from']) => wishes.change({ from }));
    this.band = row(words.band, words.bands, (band: TestEntry['band']) => wishes.change({ band }));
    this.box = new MaterialBox((material) => wishes.change({ material, from: 'material' }));
    this.kind = selectField(
      words.kind,
      MESH_KINDS.map((value) => ({ value, label: words.kinds[value] })),
      (v) => wishes.change({ kind: v as TestEntry['kind'] }),
      'kind',
    );
    this.stiffer = slider(words.stiffer, (stiffer) => wishes.change({ stiffer }), 'stiffer');
    this.heavier = slider(words.heavier, (heavier) => wishes.change({ heavier }), 'heavier');
    this.engineer = h('details', { class: 'bench-more' }, h('summary', {}, words.engineer), this.fields.inPlane.element) as HTMLDetailsElement;
    this.figures = h('div', { class: 'field-group' }, this.fields.mass.element, this.fields.rigidity.element, this.engineer);
    this.runButton = h('button', { type: 'submit', class: 'plain strong' }, words.run);
    this.stopButton = h('button', { type: 'button', class: 'plain', onclick: () => wishes.stop() }, words.stop);
    this.stopButton.disabled = true;
    const form = h(
      'form',
      { class: 'bench-form', 'aria-label': words.screen.test, novalidate: true },
      this.test.element,
      this.how,
      this.from.element,
      this.box.element,
      this.band.element,
      this.figures,
      h('h2', {}, words.sliders),
      this.stiffer.element,
      this.heavier.element,
      h(
        'details',
        { class: 'bench-more' },
        h('summary', {}, words.more),
        this.fields.length.element,
        this.fields.cut.element,
        this.fields.mesh.element,
        this.kind.element,
      ),
      h('div', { class: 'bench-run' }, this.runButton, this.stopButton),
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      wishes.run();
    });
    this.element = form;
  }

  update(entry: TestEntry, cloths: readonly Cloth[], ready: Ready | null, faults: Faults, units: UnitChoice): void {
    this.test.select.value = entry.test;
    this.how.textContent = words.tests[entry.test].how;
    this.from.set(entry.from);
    this.band.set(entry.band);
    this.box.update(cloths, entry.material, units);
    this.fields.rigidity.hint.textContent = words.rigidityHint[units];
    this.kind.select.value = entry.kind;
    for (const [key, field] of Object.entries(this.fields)) {
      const typed = entry[key as keyof TestEntry] as string;
      // What is being typed is left alone.
      if (field.input.value !== typed && document.activeElement !== field.input) field.input.value = typed;
      field.fault(faults[key as FieldName] ?? null);
    }
    // A fault that is folded away would be looked for in vain.
    if (faults.inPlane) this.engineer.open = true;
    this.box.fault(faults.material ?? null);
    this.test.fault(faults.test ?? null);
    for (const part of [this.box.element, this.band.element]) part.hidden = entry.from !== 'material';
    this.figures.hidden = entry.from !== 'figures';
    this.fields.length.label.textContent = entry.test === 'drape' ? words.diameter : words.length;
    // The disc has a mesh of its own kind.
    this.kind.element.hidden = entry.test === 'drape';
    this.fields.length.hint.textContent = ready ? words.own(size(ready.ownLength, units)) : '';
    this.fields.mesh.hint.textContent = ready ? words.own(size(ownMesh(entry.test, ready.length), units)) : '';
    // A fault must not be hidden behind a closed fold.
    if (faults.length || faults.mesh || faults.cut) this.fields.mesh.element.closest('details')!.open = true;
    if (faults.inPlane) this.fields.inPlane.element.closest('details')!.open = true;
    const own = ready?.own ?? null;
    const now = own && changed(own, entry);
    // How stiff it is then stands in the fold for the engineer; a maker hears how many times.
    this.stiffer.set(entry.stiffer, '');
    this.heavier.set(entry.heavier, now ? formatGsm(now.arealMass).replace('m2', 'm²') : '–');
  }

  busy(running: boolean): void {
    const had = document.activeElement;
    this.stopButton.disabled = !running;
    // A button that goes dead under the hand gives the focus back to the one beside it.
    if (had === this.stopButton && !running) this.runButton.focus();
  }
}
