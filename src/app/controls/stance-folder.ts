import type GUI from 'lil-gui';
import { readQuantity } from '../core.ts';
import { loadOf } from '../page/bag-form.ts';
import { h, refill } from '../page/dom.ts';
import { steppedMass, withMassUnit, withPoint } from '../page/format.ts';
import { segmentedRow } from '../page/segmented.ts';
import type { State } from '../page/store.ts';
import { addClosed } from './closed-ticks.ts';
import type { FolderMaker } from './controls.ts';
import { thingsOf } from './stance-form.ts';
import { ThingsRow } from './things-row.ts';
import { words as all } from './words.ts';

const words = all.stance;

/** What a load of this mass looks like, kg. */
const looksLike = (mass: number): string => words.looks.find(([most]) => mass <= most)![1];

/** How the bag stands or hangs, and what is in it. */
export function addStance(maker: FolderMaker, folder: GUI, state: State): void {
  const { fields, wishes, onState } = maker;
  const place = (element: HTMLElement): HTMLElement => folder.$children.appendChild(element);
  const named = (name: string): HTMLElement => place(h('div', { class: 'row-name', 'aria-hidden': 'true' }, name));
  const choices = state.bag.stances.map((s) => ({ value: s.name, label: s.name }));
  if (choices.length > 1) maker.row(folder, 'Stance', choices, (s) => s.stance, wishes.setStance);
  const now = (s: State): State['bag']['stances'][number] => s.bag.stances.find((on) => on.name === s.stance) ?? s.bag.stances[0];

  /** A row of choices that stands there only where it means something. */
  const row = <T extends string>(legend: string, labels: Readonly<Record<T, string>>, read: (s: State) => T | null, choose: (value: T) => void): void => {
    const name = named(legend);
    const made = segmentedRow<T>(
      legend,
      (Object.keys(labels) as T[]).map((value) => ({ value, label: labels[value] })),
      Object.keys(labels)[0] as T,
      choose,
    );
    place(made.element);
    onState((s) => {
      const value = read(s);
      name.hidden = made.element.hidden = value === null;
      if (value !== null) made.set(value);
    });
  };
  const handles = h('button', { type: 'button', class: 'plain', 'data-key': 'handles', onclick: () => wishes.addHandles() }, words.handles);
  const none = place(h('p', { class: 'controls-note' }));

  row(
    words.kind,
    words.kinds,
    (s) => {
      const { kind } = now(s);
      // Where there is a stance of each kind, one of them is chosen instead.
      const both = new Set(s.bag.stances.map((on) => on.kind)).size > 1;
      return kind === 'held' || both || s.bag.straps.length === 0 ? null : kind;
    },
    wishes.setKind,
  );
  row(
    words.from,
    words.froms,
    (s) => {
      const on = now(s);
      return on.kind === 'hung' ? on.from : null;
    },
    wishes.setFrom,
  );

  const tilt = fields.add(folder, 'tilt', words.tilt, words.tiltHint, (value) => wishes.setTilt(withAngleUnit(value)), steppedAngle);
  row(
    words.toward,
    words.sides,
    (s) => {
      const on = now(s);
      return on.kind === 'standing' && on.ground && on.ground.tilt > 0 ? on.ground.toward : null;
    },
    wishes.setToward,
  );

  addClosed(maker, place, named);

  let written = '';
  const load = fields.add(folder, 'load', words.load, words.loadHint, (value) => wishes.setLoad(withMassUnit(value, written)), steppedMass);
  const looks = h('small', { class: 'other-unit' });
  const like = place(h('p', { class: 'controls-note looks' }));
  load.$name.append(looks);

  const putName = named(words.put);
  const inside = new ThingsRow(wishes.putIn, wishes.takeOut);
  const put = place(inside.put);
  place(inside.inside);
  const caution = place(h('p', { class: 'controls-note' }, words.caution));
  const buttons = { more: () => wishes.addStance(), remove: () => wishes.removeStance() };
  const more = folder.add(buttons, 'more').name(words.more);
  const remove = folder.add(buttons, 'remove').name(words.remove);
  onState((s) => {
    const on = now(s);
    const held = on.kind === 'held';
    refill(none, held ? words.held : s.bag.straps.length > 0 ? '' : words.noStraps);
    if (!held && s.bag.straps.length === 0) {
      if (s.bag.panels.some((p) => p.role === 'front')) none.append(' ', handles);
      else none.append(' ', words.noHandles);
    }
    tilt.show(on.kind === 'standing');
    const slope = s.form.stances?.[s.stance]?.tilt;
    fields.showWritten(
      tilt,
      'tilt',
      slope === undefined ? '' : String(slope),
      s.faults.some((f) => f.path.startsWith(`stances.${s.stance}.tilt`)),
    );
    load.show(!held);
    written = loadOf(s.form, s.stance);
    fields.showWritten(
      load,
      'load',
      written,
      s.faults.some((f) => f.path.startsWith(`stances.${s.stance}.load`)),
    );
    const reading = readQuantity(written, 'mass');
    refill(like, reading.ok && reading.value > 0 ? `${written}: ${looksLike(reading.value)}` : '');
    putName.hidden = put.hidden = held;
    inside.show(held ? [] : thingsOf(s.form, s.stance));
    caution.hidden = on.kind !== 'hung';
    more.show(!held);
    remove.show(s.bag.stances.length > 1);
  });
}

/** A bare number typed for an angle is in degrees. */
function withAngleUnit(typed: string): string {
  const plain = withPoint(typed).trim();
  return /^-?\d+(\.\d+)?\s*°?$/.test(plain) ? `${Number.parseFloat(plain)} deg` : plain;
}

/** A degree or five at a time; nothing typed is level. */
function steppedAngle(written: string, direction: 1 | -1, large: boolean): string | null {
  const reading = written.trim() === '' ? ({ ok: true, value: 0 } as const) : readQuantity(written, 'angle');
  if (!reading.ok) return null;
  const value = Math.round((reading.value * 180) / Math.PI) + direction * (large ? 5 : 1);
  return value <= 0 ? '' : `${value} deg`;
}
