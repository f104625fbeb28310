import type { Live } from '../live/live.ts';
import type { Store } from '../page/store.ts';
import { text } from '../page/text.ts';
import type { Pictures } from './bag-pictures.ts';
import type { BayHeadings } from './bay-headings.ts';
import type { LineUp } from './line-up.ts';
import { movingSubject } from './subjects.ts';

/** The one option that may be in the maker's hand; what moves it is loaded when it is first taken. */
export class InHand {
  private live: Live | null = null;
  constructor(
    private readonly store: Store,
    private readonly headings: BayHeadings,
    private readonly pictures: Pictures,
    private readonly say: (line: string) => void,
  ) {}

  /** Whether this bay's bag is in hand: what settles meanwhile waits until it is put down. */
  holds(bay: number): boolean {
    return this.live?.host.bay === bay;
  }

  putDown(): void {
    this.live?.leave();
  }

  /** Lets the option being edited move in its bay, to be pulled about; its settled shape comes back when it is put down. */
  async take(lineUp: LineUp): Promise<void> {
    const { stage } = this.pictures;
    if (!stage) return;
    const loaded = await import('../live/live.ts').catch(() => null);
    if (!loaded) {
      this.say(text.mat.takeFailed);
      return;
    }
    const { headings, store } = this;
    const { bag, columns, editing, stance } = store.state;
    this.putDown();
    this.live = new loaded.Live({
      bay: editing,
      element: headings.bayElements[editing],
      mat: headings.element,
      canvas: headings.canvas,
      stage,
      letter: columns[editing].letter,
      units: () => store.state.preferences.units,
      bag,
      option: columns[editing].option,
      stance,
      subject: (start) => movingSubject({ bag, stance }, columns[editing].option, start),
      say: this.say,
      left: () => {
        this.live = null;
        lineUp.redraw();
      },
    });
  }
}
