import { h, refill } from '../page/dom.ts';
import { withUnitOf } from '../page/format.ts';
import { segmentedRow } from '../page/segmented.ts';
import type { Board, BoardHandle, BoardTrouble, Look } from './board-data.ts';
import { BoardEdits } from './board-edits.ts';
import type { BoardWishes } from './board-wishes.ts';
import type { Drafting, DrawEdit } from './drafting.ts';
import type { DraftingSay } from './drafting-worker.ts';
import { draw as draws } from './draw-words.ts';
import { button } from './form-parts.ts';
import { Hands } from './hands.ts';
import { keptFocus } from './kept-focus.ts';
import { PanelForm } from './panel-form.ts';
import { partActions } from './part-actions.ts';
import { PatternPrint } from './print-pattern.ts';
import { SeamList } from './seam-list.ts';
import { SewingForm } from './sewing-form.ts';
import { Sheet } from './sheet.ts';
import { SizeForm, sizesOf } from './size-form.ts';
import { SizeList } from './size-list.ts';
import { StrapForm } from './strap-form.ts';
import { TrimForm } from './trim-form.ts';
import { TroubleList } from './trouble-list.ts';
import { Underlay } from './underlay.ts';
import { words } from './words.ts';

type Made = Extract<DraftingSay, { kind: 'drawn' }>['made'];
export type Mode = 'shape' | 'sew' | 'strap' | 'close';

/** The drafting table: flat panels that are drawn, sewn and given straps, by pointer and by keys, with what is not right yet beside them. */
export class FlatBoard {
  private readonly told = h('p', { class: 'sheet-told' });
  private readonly side = h('aside', { class: 'sheet-side', 'aria-label': words.edit });
  private readonly hands = new Hands(this.side);
  private readonly work = h('div', { class: 'sheet-work' });
  private readonly modes: ReturnType<typeof segmentedRow<Mode>>;
  private readonly sheet: Sheet;
  private readonly edits: BoardEdits;
  private readonly form: SizeForm;
  private readonly sewing: SewingForm;
  private readonly seams: SeamList;
  private readonly strap: StrapForm;
  private readonly trim: TrimForm;
  private readonly troubles: TroubleList;
  private readonly sizes: SizeList;
  private readonly adding: PanelForm;
  private readonly under: Underlay;
  private board: Board | null = null;
  private bag = '';
  /** How what is shown was drawn. */ private drawn = '';
  private look: Look = { option: '', units: 'inch' };
  private panel = '';
  private part = '';
  private mode: Mode = 'shape';
  /** A new panel is being described; on an empty table it is the first of another bag. */ private making: 'none' | 'panel' | 'bag' = 'none';

  constructor(
    host: HTMLElement,
    private readonly drafting: Drafting,
    private readonly wishes: BoardWishes,
  ) {
    this.edits = new BoardEdits({
      drafting,
      bag: () => wishes.bag(),
      look: () => this.look,
      took: (bag, now, made) => this.took(bag, now, made),
      commit: (bag, what, opened) => wishes.commit(bag, what, opened),
      redraw: () => this.redraw(),
      free: () => this.hands.free(),
      tell: (line) => this.tell(line),
    });
    const drawEdit = (edit: DrawEdit): void => this.edits.draw(edit);
    const { withUnit, withUnitOf } = this;
    this.form = new SizeForm({
      choose: (panel, part) => this.choose(panel, part),
      typed: (handle, control, value) => this.edits.typed(handle, control, withUnit(value)),
      name: (path, label) => drawEdit({ do: 'parameter', path, label }),
    });
    this.sewing = new SewingForm({ draw: drawEdit, picked: () => this.repaint(), tell: (line) => this.tell(line) });
    this.seams = new SeamList({ draw: drawEdit, show: (panel, seam) => this.sheet.show(panel, null, seam), withUnit: withUnitOf });
    this.strap = new StrapForm({ draw: drawEdit, tell: (line) => this.tell(line), placed: () => this.repaint(), withUnit });
    this.trim = new TrimForm({ draw: drawEdit, tell: (line) => this.tell(line), picked: () => this.repaint(), withUnit, withUnitOf });
    this.troubles = new TroubleList({ draw: drawEdit, show: (trouble) => this.showTrouble(trouble) });
    this.sizes = new SizeList({ draw: drawEdit });
    this.adding = new PanelForm({ add: (panel, bag) => this.edits.add(panel, bag), leave: () => this.turn(this.mode) });
    this.under = new Underlay({
      changed: () => this.repaint(),
      tell: (line) => this.tell(line),
      withUnit,
      usual: () => (this.look.units !== 'metric' ? '12 in' : '300 mm'),
    });
    this.sheet = new Sheet({
      choose: (panel, part) => this.choose(panel, part),
      hold: (part) => this.hold(part),
      nudge: (handle, by) => this.edits.move(handle, by),
      dropped: (handle, by) => this.edits.move(handle, by),
      drag: (move, held) => this.drafting.move(this.bag, move, { ...this.look, ...held }),
      follow: (say, why) => this.follow(say, why),
      cancelled: () => this.redraw(),
      pick: (ref) => (this.mode === 'close' ? this.trim : this.sewing).pick(ref),
      press: (panel, at) => (this.mode === 'close' ? this.trim : this.strap).press({ panel, at }),
      point: (panel) => this.wishes.point(panel),
      ready: () => this.bag === this.wishes.bag(),
    });
    const modes = (['shape', 'sew', 'strap', 'close'] as const).map((value) => ({ value, label: draws.modes[value] }));
    this.modes = segmentedRow<Mode>(draws.mode, modes, this.mode, (mode) => this.turn(mode));
    const bar = h(
      'div',
      { class: 'sheet-bar', role: 'group', 'aria-label': draws.tools },
      this.modes.element,
      button(draws.newPanel, 'bar panel', () => this.begin('panel')),
      button(draws.newBag, 'bar bag', () => this.begin('bag'), { title: draws.newBagHint }),
      new PatternPrint({ bag: () => wishes.bag(), option: () => this.look.option, tell: (line) => this.tell(line) }).element,
    );
    this.side.append(this.told, this.troubles.element, this.work, this.sizes.element);
    host.replaceChildren(bar, this.sheet.element, this.side);
  }

  /** Draws a bag; what is chosen stays chosen where it still is. */
  async show(bag: string, look: Look): Promise<void> {
    // Units hold from now on, not from the next drawing: a key pressed meanwhile must step by them.
    this.look = { ...look, aspect: this.sheet.aspect, high: this.sheet.high };
    if (this.sheet.dragging || (this.making === 'bag' && bag === this.bag)) return;
    // An edit has drawn it already: the worker is free for the sewn shape at once.
    if (bag === this.bag && this.drawn === lookKey(this.look)) return;
    await this.edits.queue.run(async () => {
      // The bag has changed again meanwhile: that change draws itself.
      if (bag !== this.wishes.bag() || this.sheet.dragging) return;
      const say = await this.drafting.flat(bag, this.look);
      await this.hands.free();
      if (say.kind !== 'flat' || this.sheet.dragging || bag !== this.wishes.bag()) return;
      // What was said of the last move is no longer so once something else has changed the bag.
      if (bag !== this.bag) {
        refill(this.told);
        if (this.making === 'bag') this.making = 'none';
      }
      const outside = this.drawn !== '';
      [this.bag, this.drawn] = [bag, lookKey(this.look)];
      this.paint(say.board, outside);
    });
  }

  /** Draws what there is again, whatever is shown. */
  private redraw(): void {
    this.drawn = '';
    void this.show(this.wishes.bag(), this.look);
  }

  /** Clears the table for another bag, or asks what the next panel is. */
  begin(what: 'panel' | 'bag'): void {
    this.making = what;
    this.turnTo('shape');
    this.sewing.clear();
    if (what === 'bag') {
      this.sheet.clear();
      this.tell(draws.emptySaid);
    }
    this.paintWork();
    this.adding.begin(what === 'bag' ? null : this.board, this.look.units);
  }

  private turn(mode: Mode): void {
    if (this.making !== 'none') this.making = 'none';
    this.turnTo(mode);
    this.repaint();
  }

  private turnTo(mode: Mode): void {
    this.mode = mode;
    this.modes.set(mode);
    this.strap.first = null;
    this.trim.leave();
    if (mode !== 'sew') this.sewing.clear();
  }

  /** Lights one panel up: a heavy outline, and its name underlined. */
  pointOut(panel: string | null): void {
    this.sheet.pointOut(panel);
  }

  /** A bare figure is meant in the unit that stood there; where none did, in the one that is shown. */
  private readonly withUnitOf = (value: string, before: string): string => withUnitOf(value, before, this.look.units !== 'metric' ? 'in' : 'mm');
  private readonly withUnit = (value: string): string => this.withUnitOf(value, '');

  private get handle(): BoardHandle | undefined {
    return this.board?.handles.find((k) => k.id === this.part);
  }

  private repaint(): void {
    if (this.board) this.paint(this.board);
  }

  private paint(board: Board, outside = false): void {
    const focus = keptFocus(outside);
    this.board = board;
    if (!board.panels.includes(this.panel)) this.panel = board.panels[0] ?? '';
    if (this.handle?.panel !== this.panel) this.part = board.handles.find((k) => k.panel === this.panel)?.id ?? '';
    if (this.making === 'bag') return;
    // The form knows the sides that are still there before the sheet lights them.
    this.sewing.fill(board, this.look.units);
    const closing = this.mode === 'close' && this.trim.fill(board, this.look.units);
    this.sheet.paint(board, {
      mode: this.mode !== 'close' ? this.mode : this.trim.wants === 'edges' ? 'sew' : 'spot',
      panel: this.panel,
      part: this.part,
      units: this.look.units,
      picked: closing ? this.trim.refs : this.sewing.refs,
      length: closing ? null : this.sewing.length,
      spot: closing ? this.trim.first : this.strap.first,
      under: (drawing) => this.under.paint(drawing, board),
    });
    this.paintWork();
    focus(this.sheet.element, this.side);
  }

  /** The form beside the sheet, by what is being done. */
  private paintWork(): void {
    const board = this.board;
    if (this.making !== 'none') this.place(this.adding.element);
    else if (board && this.mode === 'sew') {
      this.seams.fill(board, this.look.units);
      this.place(this.sewing.element, this.seams.element);
    } else if (board && this.mode === 'strap') {
      this.strap.fill(board, this.look.units, this.panel);
      this.place(this.strap.element);
    } else if (board && this.mode === 'close') this.place(this.trim.element);
    else if (board) {
      const part = { board, panel: this.panel, handle: this.handle, units: this.look.units };
      this.form.fill(part);
      const { edits, withUnit, withUnitOf } = this;
      const actions = partActions(part, { draw: (edit) => edits.draw(edit), sew: (ref) => this.sewFrom(ref), withUnit, withUnitOf });
      this.under.fill(this.panel);
      this.place(h('h2', {}, words.edit), this.form.element, this.form.lengths, ...actions, this.under.element, this.form.legend);
    }
    const empty = this.making === 'bag' || !board;
    this.troubles.element.hidden = empty;
    if (empty) this.sizes.element.hidden = true;
    else {
      this.sizes.fill(board);
      // While something is dragged nothing is looked for.
      if (!this.sheet.dragging) this.troubles.fill(board);
    }
  }

  /** What is there already is not put there again: it would lose the focus. */
  private place(...parts: HTMLElement[]): void {
    if (parts.length !== this.work.children.length || parts.some((part, i) => part !== this.work.children[i])) this.work.replaceChildren(...parts);
  }

  private choose(panel: string, part: string): void {
    this.panel = panel;
    this.part = part;
    this.making = 'none';
    this.repaint();
  }

  private hold(part: string): void {
    this.part = part;
    this.panel = this.handle?.panel ?? this.panel;
    this.paintWork();
  }

  private sewFrom(ref: string): void {
    this.turnTo('sew');
    this.repaint();
    this.sewing.pick(ref);
  }

  private showTrouble(trouble: BoardTrouble): void {
    this.turn(trouble.seam === null ? 'shape' : 'sew');
    if (trouble.seam !== null) this.seams.point(trouble.seam);
    const handle = this.board?.handles.find((k) => k.panel === trouble.panel && k.edge === trouble.edge);
    this.choose(trouble.panel, handle?.id ?? '');
    this.sheet.show(trouble.panel, trouble.edge, trouble.seam);
  }

  private took(bag: string, board: Board, made: Made): void {
    [this.bag, this.drawn, this.making] = [bag, lookKey(this.look), 'none'];
    if (made.panel) [this.panel, this.part] = [made.panel, ''];
    if (made.seam) this.seams.point(made.seam);
    this.paint(board);
  }

  private follow(say: DraftingSay, why: readonly string[]): void {
    if (say.kind === 'moved') {
      this.paint(say.board);
      refill(this.told, [sizesOf(this.handle, this.look.units), ...why].join('; '));
    } else if (say.kind === 'refused') refill(this.told, words.refused);
  }

  private tell(line: string): void {
    refill(this.told, line);
    this.wishes.say(line);
  }
}

/** What of a look changes the drawing. */
const lookKey = (look: Look): string => JSON.stringify([look.option, look.units]);
