import type { Result } from '../core.ts';
import type { Drafting } from '../flat/drafting.ts';
import type { Store } from '../page/store.ts';
import type { Pictures } from './bag-pictures.ts';
import type { BayHeadings } from './bay-headings.ts';

/** The bags as drawings, where the browser has no WebGL. */
export class StillDrawings {
  /** Drawings asked for, by bay: an older one that comes late is not shown. */
  private readonly asked: number[] = [];
  constructor(
    private readonly store: Store,
    private readonly headings: BayHeadings,
    private readonly pictures: Pictures,
    private readonly drafting: () => Promise<Drafting>,
  ) {}

  /** Draws a settled bag with the chosen map on it. */
  async draw(bay: number, result: Result): Promise<void> {
    if (!this.pictures.flatOnly) return;
    const own = (this.asked[bay] = (this.asked[bay] ?? 0) + 1);
    const [drafting, colouring] = await Promise.all([this.drafting(), this.pictures.colouring(bay, result)]);
    const drawing = await drafting.still(result, colouring);
    if (this.asked[bay] === own) this.headings.showFlat(bay, drawing);
  }

  redraw(): void {
    this.store.state.columns.forEach((column, i) => {
      if (column.result) void this.draw(i, column.result);
    });
  }
}
