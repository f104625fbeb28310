import { MEASURED, type Measured } from '../line-up/measure-marks.ts';
import { keepView, keptView } from './browser-storage.ts';
import type { State, Store } from './store.ts';

export interface LookedAtListeners {
  /** Another figure is shown on the bags, or none. */ figure(figure: Measured | null): void;
  /** Another panel is pointed out, or none. */ panel(panel: string | null): void;
}

/**
 * What the maker looks at, apart from the bag itself: the figure whose place is shown on the bags, the panel pointed out, and, for the next visit, the
 * stance shown, the option edited and the one compared with (the browser keeps all but the panel).
 */
export class LookedAt {
  figure: Measured | null;
  private panel: string | null = null;
  constructor(
    private readonly store: Store,
    private readonly tell: LookedAtListeners,
  ) {
    const kept = keptView();
    this.figure = MEASURED.find((figure) => figure === kept.mark) ?? null;
  }

  /** Shows a figure on the bags, or hides it where it is shown already. */
  toggleFigure(figure: Measured): void {
    this.figure = this.figure === figure ? null : figure;
    this.keep({ mark: this.figure });
    this.tell.figure(this.figure);
  }

  pointOut(panel: string | null): void {
    if (panel === this.panel) return;
    this.panel = panel;
    this.tell.panel(panel);
  }

  /** Letter of the option that the others were compared with at the last visit; '' for none. */
  comparedWith(): string {
    const { against } = keptView();
    return this.store.state.columns.find((c) => c.option === against)?.letter ?? '';
  }

  compareWith(letter: string): void {
    this.keep({ against: this.store.state.columns.find((c) => c.letter === letter)?.option ?? '' });
  }

  /** Keeps the option edited and the stance shown where they have changed. */
  follow(state: State, before: State): void {
    const edited = state.columns[state.editing].option;
    if (before.columns[before.editing]?.option !== edited) this.keep({ editing: edited });
    if (before.off !== state.off) this.keep({ off: state.off });
    if (before.stance !== state.stance) this.keep({ stance: state.stance });
  }

  /** What finds no room is told as that of the bag is. */
  private keep(part: Parameters<typeof keepView>[0]): void {
    if (!keepView(part)) this.store.set({ saved: false });
  }
}
