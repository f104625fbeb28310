import type GUI from 'lil-gui';
import { lengthIn } from '../core.ts';
import { type BagForm, endsOf, idleParameters } from '../page/bag-form.ts';
import { h, refill } from '../page/dom.ts';
import { inOtherUnit, inReadersUnit, withUnitOf } from '../page/format.ts';
import type { State } from '../page/store.ts';
import { text } from '../page/text.ts';
import type { FolderMaker } from './controls.ts';

const words = text.controls;

/** The bag's own sizes, each with the other unit beside it. */
export function addBag({ fields, wishes, onState }: FolderMaker, folder: GUI, state: State): void {
  let [form, idle]: [BagForm | null, ReadonlySet<string>] = [null, new Set()];
  onState((now) => {
    if (form !== now.form) idle = idleParameters(now.form);
    form = now.form;
  });
  for (const { name, label } of state.bag.parameters) {
    const key = `parameter ${name}`;
    let [written, usual] = ['', ''];
    const report = (value: string): void => wishes.setParameter(name, withUnitOf(value, written, usual));
    const field = fields.add(folder, key, label ?? words.parameter[name] ?? words.sizeNamed(name), words.dimensionHint, report);
    const beside = h('small', { class: 'other-unit' });
    field.$name.append(beside);
    onState((now) => {
      const parameter = now.bag.parameters.find((p) => p.name === name);
      const length = parameter?.kind === 'length' ? parameter.value : null;
      const own = String(now.form.parameters?.[name] ?? '');
      written = inReadersUnit(length, own, now.preferences.units);
      usual = parameter?.kind === 'length' ? (now.preferences.units !== 'metric' ? 'in' : 'mm') : '';
      const fault = now.faults.some((f) => f.path === `parameters.${name}`);
      // Beside a refused value the size of the one before would be taken for its own.
      const size = !fault && length !== null ? inOtherUnit(length, own, now.preferences.units) : '';
      refill(beside, size, !fault && idle.has(name) ? h('span', { class: 'idle', title: words.idleHint }, words.idle) : '');
      fields.showWritten(field, key, written, fault);
    });
  }
}

/** Where each strap is sewn on and how long it is; there while the bag hangs. */
export function addStraps(maker: FolderMaker, folder: GUI, state: State): void {
  const { wishes } = maker;
  for (const strap of Object.keys(state.form.straps ?? {})) {
    const path = `straps.${strap}`;
    const several = endsOf(state.form, strap).length > 1;
    for (const { end, side } of endsOf(state.form, strap)) {
      const owner = end === 'to' && several ? words.straps.otherEnd(strap) : strap;
      const read = (form: BagForm): string => endsOf(form, strap).find((e) => e.end === end)?.written ?? '';
      addWritten(maker, folder, { path: `${path}.${end}.${side}`, label: words.straps.from[side], owner, read }, (value) =>
        wishes.setAnchor(strap, end, side, value),
      );
    }
    const read = (form: BagForm): string => String(form.straps?.[strap]?.length ?? '');
    addWritten(maker, folder, { path: `${path}.length`, label: words.straps.length, owner: strap, read }, (value) => wishes.setStrapLength(strap, value));
  }
  maker.onState((now) => folder.show(now.bag.stances.some((s) => s.name === now.stance && s.kind === 'hung')));
}

interface WrittenLength {
  /** Where it stands in the bag file, and the field's key. */ readonly path: string;
  readonly label: string;
  /** Whose length it is, beside the label. */ readonly owner: string;
  read(form: BagForm): string;
}

/** A typed length of a strap in the bag file. */
function addWritten({ fields, onState }: FolderMaker, folder: GUI, length: WrittenLength, report: (value: string) => void): void {
  let written = '';
  const field = fields.add(folder, length.path, length.label, words.dimensionHint, (value) => report(withUnitOf(value, written, 'mm')));
  const beside = h('small', { class: 'other-unit' });
  field.$name.append(beside);
  onState((now) => {
    const own = length.read(now.form);
    const fault = now.faults.some((f) => f.path === length.path);
    const size = fault ? null : lengthIn(now.bag, own);
    written = inReadersUnit(size, own, now.preferences.units);
    const other = size === null ? '' : inOtherUnit(size, own, now.preferences.units);
    refill(beside, length.owner, other === '' ? '' : h('br'), other);
    fields.showWritten(field, length.path, written, fault);
  });
}
