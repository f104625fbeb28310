import '../style/bench.css';
import '../style/bench-fields.css';
import '../style/bench-readout.css';
import '../style/bench-own.css';
import '../style/bench-side.css';
import '../style/bench-narrow.css';
import { keepSwatch, keptSwatch } from '../page/browser-storage.ts';
import { h } from '../page/dom.ts';
import { segmentedRow } from '../page/segmented.ts';
import type { State } from '../page/store.ts';
import { restored, type TestEntry } from './entries.ts';
import { type OwnEntry, restoredOwn } from './own-entries.ts';
import { type OwnHost, OwnScreen } from './own-screen.ts';
import { restoredSide, type SideEntry, SideScreen } from './side-screen.ts';
import { TestScreen } from './test-screen.ts';
import { words } from './words.ts';

export interface BenchHost {
  readonly state: () => State;
  readonly listen: (listener: (state: State, before: State) => void) => void;
  readonly calm: () => boolean;
  readonly say: (line: string) => void;
  readonly use: OwnHost['use'];
}

const SCREENS = ['test', 'side', 'own'] as const;
type ScreenName = (typeof SCREENS)[number];

/** The view "What is my swatch?": a material on the bench, or a material out of a maker's own readings. */
export class Bench {
  private kept: { screen: ScreenName; test: TestEntry; own: OwnEntry; side: SideEntry };
  private readonly test: TestScreen;
  private readonly own: OwnScreen;
  private readonly side: SideScreen;
  private readonly row;
  /** Shown where the browser does not keep what stands in the fields. */
  private readonly notice = h('p', { class: 'notice', role: 'status', hidden: true }, words.notKept);
  constructor(place: HTMLElement, host: BenchHost) {
    const old = keptSwatch();
    this.kept = {
      screen: SCREENS.find((name) => name === old.screen) ?? 'test',
      test: restored(old.test),
      own: restoredOwn(old.own),
      side: restoredSide(old.side),
    };
    const { state, say, calm } = host;
    this.test = new TestScreen({ state, say, calm, keep: (test) => this.keep({ test }) }, this.kept.test);
    this.own = new OwnScreen(
      {
        state,
        say,
        use: host.use,
        keep: (own) => this.keep({ own }),
        bench: (id) => {
          this.turn('test');
          this.test.use(id);
        },
      },
      this.kept.own,
    );
    this.side = new SideScreen({ state, say, keep: (side) => this.keep({ side }) }, this.kept.side);
    this.row = segmentedRow(
      words.screens,
      SCREENS.map((value) => ({ value, label: words.screen[value] })),
      this.kept.screen,
      (screen) => this.turn(screen),
    );
    place.replaceChildren(h('div', { class: 'bench-screens' }, this.row.element), this.notice, this.test.element, this.side.element, this.own.element);
    host.listen((now, before) => {
      if (now.bag === before.bag && now.preferences === before.preferences && now.columns.length === before.columns.length) return;
      this.own.update();
      this.test.update();
      if (this.kept.screen === 'side') this.side.update();
    });
    this.turn(this.kept.screen);
  }

  private keep(part: Partial<Bench['kept']>): void {
    this.kept = { ...this.kept, ...part };
    this.notice.hidden = keepSwatch(this.kept);
  }

  private turn(screen: ScreenName): void {
    this.row.set(screen);
    this.test.element.hidden = screen !== 'test';
    this.own.element.hidden = screen !== 'own';
    this.side.element.hidden = screen !== 'side';
    if (screen !== this.kept.screen) this.keep({ screen });
    if (screen === 'test') this.test.begin();
    if (screen === 'side') this.side.update();
  }
}
