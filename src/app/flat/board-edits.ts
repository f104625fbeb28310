import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardHandle, Look } from './board-data.ts';
import type { Drafting, DrawEdit, NewPanel } from './drafting.ts';
import type { DraftingSay } from './drafting-worker.ts';
import { draw as draws, nameOf } from './draw-words.ts';
import { EditQueue } from './edit-queue.ts';
import { partName } from './marks.ts';
import { saidOf } from './told.ts';
import { words } from './words.ts';

export interface BoardEditsHost {
  readonly drafting: Drafting;
  /** The bag there is now. */ bag(): string;
  look(): Look;
  /** Shows a bag that an edit made, and chooses what it made. */ took(bag: string, board: Board, made: Made): void;
  commit(bag: string, what: string, opened: boolean): boolean;
  /** What there is is to be drawn again. */ redraw(): void;
  /** Resolves once nothing is pressed. */ free(): Promise<void>;
  tell(line: string): void;
}

type Made = Extract<DraftingSay, { kind: 'drawn' }>['made'];

/** Every edit made on the table: asked of the worker in its turn, shown, told, and handed on as a changed bag. */
export class BoardEdits {
  readonly queue: EditQueue;
  constructor(private readonly host: BoardEditsHost) {
    this.queue = new EditQueue(
      () => host.bag(),
      () => host.free(),
    );
  }

  /** Asks for an edit of the bag as it is when its turn comes; what has changed meanwhile is not lost. */
  private edit(ask: (bag: string) => Promise<DraftingSay>, took: (say: DraftingSay) => void, redraw = false): void {
    void this.queue.edit(ask, (say) => {
      if (say.kind === 'refused') this.refuse(say, redraw);
      else took(say);
    });
  }

  /** Says why; what was dragged or typed over a size goes back to where it was. */
  private refuse(say: Extract<DraftingSay, { kind: 'refused' }>, redraw: boolean): void {
    const faults = say.faults.map((x) => `${x.path}: ${x.got}; expected ${x.expected}`).join(' ');
    this.host.tell(faults === '' ? draws.refusedEdit : `${words.refused} ${faults}`);
    if (redraw) this.host.redraw();
  }

  draw(edit: DrawEdit): void {
    const { host } = this;
    this.edit(
      (bag) => host.drafting.draw(bag, edit, host.look()),
      (say) => this.drawn(say, edit, nameOf(edit), false),
    );
  }

  /** Another panel, or the first one of a bag of that name. */
  add(panel: NewPanel, bagName: string | null): void {
    const { host } = this;
    if (bagName === null) this.draw({ do: 'panel', panel });
    else
      this.edit(
        () => host.drafting.begin(bagName, panel, host.look()),
        (say) => this.drawn(say, { do: 'panel', panel }, '', true),
      );
  }

  private drawn(say: DraftingSay, edit: DrawEdit, what: string, opened: boolean): void {
    if (say.kind !== 'drawn') return;
    this.host.took(say.bag, say.board, say.made);
    this.host.tell(saidOf(edit, say, this.host.look().units as UnitChoice));
    this.host.commit(say.bag, what, opened);
  }

  move(handle: BoardHandle, by: readonly [number, number]): void {
    const { host } = this;
    this.edit(
      (bag) => host.drafting.move(bag, { handle: handle.id, by: [...by] }, host.look()),
      (say) => this.moved(say, handle),
      true,
    );
  }

  typed(handle: BoardHandle, control: number, value: string): void {
    const { host } = this;
    this.edit(
      (bag) => host.drafting.type(bag, handle.id, control, value, host.look()),
      (say) => this.moved(say, handle),
      true,
    );
  }

  /** Takes a moved or typed size, and says what became of the links. */
  private moved(say: DraftingSay, handle: BoardHandle): void {
    if (say.kind !== 'moved') return;
    if (say.changes.length === 0) {
      this.host.redraw();
      return;
    }
    const label = (parameter: string): string => say.board.sizes.find((s) => s.name === parameter)?.label || words.sizeCalled(parameter);
    const lines = say.changes.flatMap((c) => [
      words.changed(c.parameter ? label(c.parameter) : partName(handle), c.before, c.after),
      ...(c.replaced ? [words.replaced(c.replaced)] : []),
    ]);
    this.host.took(say.bag, say.board, {});
    this.host.tell(lines.join(' '));
    this.host.commit(say.bag, words.moved(handle.panel, partName(handle)), false);
  }
}
