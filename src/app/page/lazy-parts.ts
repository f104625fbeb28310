import type { Drafting, FlatBoard } from '../flat/drafting.ts';
import type { LineUp } from '../line-up/line-up.ts';
import { subjectOfResult } from '../line-up/subjects.ts';
import type { Camera } from '../view/projection.ts';
import type { BagEdits } from './bag-edits.ts';
import { BAG_KEY, keepTour, keptId, newId } from './browser-storage.ts';
import { h } from './dom.ts';
import type { Page } from './frame.ts';
import type { LookedAt } from './looked-at.ts';
import { written } from './opening.ts';
import { useMaterial } from './own-material.ts';
import type { Store } from './store.ts';
import { text } from './text.ts';

export interface LazyHost {
  readonly store: Store;
  readonly page: Page;
  readonly edits: BagEdits;
  readonly lookedAt: LookedAt;
  readonly calm: () => boolean;
  readonly camera: () => Camera;
  readonly lineUp: () => LineUp;
}

/** A screen that is set up when it is first looked at; nothing of it is loaded before. What failed to load is asked for again when it is next turned to. */
function lazily(place: HTMLElement, load: () => Promise<unknown>, failed: string): () => void {
  let asked = false;
  return () => {
    if (asked) return;
    asked = true;
    load().catch(() => {
      asked = false;
      place.replaceChildren(h('p', { class: 'notice' }, failed));
    });
  };
}

/** The parts of the page that are loaded when they are first asked for: the drafting worker, the flat panels, the bench, the straps' screen, the tour, the starts. */
export class LazyParts {
  private draftingMade: Promise<Drafting> | null = null;
  private boardMade: Promise<FlatBoard> | null = null;
  readonly openBench: () => void;
  readonly openStraps: () => void;
  readonly openShelf: () => void;
  private shelf: Promise<import('../shelf/screen.ts').ShelfScreen> | null = null;
  constructor(private readonly host: LazyHost) {
    const { store, page, edits, calm } = host;
    const shared = {
      state: () => store.state,
      listen: ((listener) => store.listen(listener)) as Store['listen'],
      say: (line: string) => page.say(line),
    };
    this.openBench = lazily(
      page.swatch,
      async () =>
        new (await import('../bench/bench.ts')).Bench(page.swatch, {
          ...shared,
          calm,
          use: (id, material, where, fused) => useMaterial(store, edits, id, material, where, fused),
        }),
      text.swatch.failed,
    );
    this.openStraps = lazily(
      page.straps,
      async () =>
        new (await import('../straps/screen.ts')).StrapsScreen(page.straps, {
          ...shared,
          change: (form, what) => edits.change(form, what),
          draft: async (strap) => (await this.drafting()).start(written(store.state.form), strap),
        }),
      text.strapping.failed,
    );
    this.openShelf = lazily(
      page.shelf,
      () => {
        this.shelf = import('../shelf/screen.ts').then((m) => new m.ShelfScreen(page.shelf, { ...shared, change: edits.change }));
        return this.shelf;
      },
      text.strapping.failed,
    );
  }

  /** Adds the materials of a shelf file to the maker's shelf, and turns to it. */
  private addToShelf(source: string, name: string): void {
    window.location.hash = 'shelf';
    this.openShelf();
    void this.shelf?.then((screen) => screen.add(source, name));
  }

  /** Flat panels, bags to start from, drawings without WebGL: neither this script nor its worker is needed for the first picture. */
  drafting(): Promise<Drafting> {
    this.draftingMade ??= import('../flat/drafting.ts').then((m) => new m.Drafting());
    return this.draftingMade;
  }

  private board(): Promise<FlatBoard> {
    const { page, edits, lookedAt } = this.host;
    this.boardMade ??= Promise.all([import('../flat/drafting.ts'), this.drafting()]).then(
      ([m, drafting]) =>
        new m.FlatBoard(page.cutting, drafting, {
          commit: (bag, what, opened) => edits.take(bag, what, opened),
          bag: () => written(this.host.store.state.form),
          say: (line) => page.say(line),
          point: (panel) => lookedAt.pointOut(panel),
        }),
    );
    return this.boardMade;
  }

  /** Lights a panel up among the flat ones, where they are shown. */
  pointOut(panel: string | null): void {
    void this.boardMade?.then((board) => board.pointOut(panel));
  }

  /** Draws the flat panels of the option being edited, when they are what is being looked at. */
  drawFlat(): void {
    const { page, store } = this.host;
    if (page.question !== 'cut') return;
    const { form, columns, editing, preferences } = store.state;
    void this.board().then((board) => board.show(written(form), { option: columns[editing].option, units: preferences.units }));
  }

  /** An empty drafting table, for a bag that is drawn from nothing. */
  newBag(): void {
    window.location.hash = 'cut';
    void this.board().then((board) => board.begin('bag'));
  }

  startFrom(name: string): void {
    void this.drafting()
      .then((drafting) => drafting.templates())
      .then((list) => {
        const chosen = list.find((t) => t.name === name);
        if (chosen) this.host.edits.take(chosen.text, '', true);
      });
  }

  showStarts(): void {
    const { page, store, edits } = this.host;
    void import('../starts/starts.ts').then(
      async (m) => m.showStarts(await this.drafting(), { units: store.state.preferences.units, take: (bag) => edits.take(bag, '', true) }),
      () => page.say(text.file.picturesFailed),
    );
  }

  private keeping: ReturnType<typeof setTimeout> | undefined;
  private readonly unkept = new Map<string, { readonly name: string; readonly source: string }>();

  /** Keeps a bag among the maker's own once the hand rests, or the page goes away. */
  keep(id: string, name: string, source: string): void {
    this.unkept.set(id, { name, source });
    clearTimeout(this.keeping);
    this.keeping = setTimeout(() => void this.keepNow(), 800);
  }

  private async keepNow(): Promise<void> {
    clearTimeout(this.keeping);
    const waiting = [...this.unkept];
    this.unkept.clear();
    const { keepBagAs } = await import('../keep/bags.ts');
    for (const [id, { name, source }] of waiting) {
      // The bag on the mat is kept apart from this, and says so where there is no room.
      await keepBagAs({ id, name, text: source, changed: Date.now() }).catch(() => {});
    }
  }

  showBags(file: string | null = null): void {
    const { page, edits, store } = this.host;
    void (async () => {
      await this.keepNow();
      const { showBags } = await import('../keep/sheet.ts');
      const drafting = await this.drafting();
      await showBags(
        {
          drafting,
          newId,
          current: () => edits.id,
          open: (bag) => edits.take(bag.text, '', true, bag.id),
          renamed: (name) => edits.change({ ...store.state.form, name }, text.file.renamed(name)),
          say: (line) => page.say(line),
        },
        file,
      );
    })().catch(() => page.say(text.file.bagsFailed));
  }

  /** Another tab that changes the same bag is told, and this one goes on with a bag of its own: neither is lost. */
  watchOtherTabs(): void {
    const { page, edits, store } = this.host;
    window.addEventListener('pagehide', () => this.unkept.size > 0 && void this.keepNow());
    window.addEventListener('storage', ({ key, newValue }) => {
      if (key !== BAG_KEY || newValue === null || newValue === written(store.state.form) || keptId() !== edits.id) return;
      const [other, theirs] = [edits.id, newValue];
      edits.id = newId();
      this.keep(edits.id, store.state.bag.name, written(store.state.form));
      void import('../keep/conflict.ts').then((m) => m.tellConflict(page.main, () => edits.take(theirs, '', true, other)));
    });
  }

  /** A file was chosen or dropped, `of` so many at once; or a folder. */
  open(chosen: File | FileSystemEntry, of = 1): void {
    const { page, store, edits, lineUp } = this.host;
    const host = {
      store,
      edits,
      lineUp: lineUp(),
      place: page.main,
      say: (line: string) => page.say(line),
      showBags: (file: string) => this.showBags(file),
      addToShelf: (file: string, name: string) => this.addToShelf(file, name),
    };
    void import('../keep/open-file.ts').then(
      (m) => m.open(chosen, of, host),
      () => page.say(text.file.takeFailed),
    );
  }

  takeAway(): void {
    const { page, store } = this.host;
    void import('../take/sheet.ts').then(
      (m) =>
        m.showTakeAway({
          state: store.state,
          written: written(store.state.form),
          subject: (result) => subjectOfResult(store.state, result),
          camera: this.host.camera(),
          say: (line) => page.say(line),
        }),
      () => page.say(text.file.takeFailed),
    );
  }

  /** What an option that misses would need. */
  showNeed(option: string): void {
    const { page, store } = this.host;
    void import('../need/sheet.ts').then(
      (m) => m.showNeed(store.state, option),
      () => page.say(text.file.takeFailed),
    );
  }

  /** Opens the bag that the address holds, where it holds one, and takes it out of the address. */
  openLink(): void {
    const { hash } = window.location;
    if (!hash.startsWith('#bag=')) return;
    window.history.replaceState(null, '', '#stand');
    const { store, edits } = this.host;
    void import('../take/link.ts').then(async (m) => {
      try {
        edits.take(await m.bagInLink(hash), '', true);
      } catch {
        store.set({ faults: [{ path: '', got: text.file.badLink, expected: text.file.wholeLink }] });
      }
    });
  }

  startTour(): void {
    const { page } = this.host;
    void import('../tour/tour.ts').then(
      (m) => {
        m.startTour({ say: (line) => page.say(line), left: keepTour });
        document.querySelector('.tour-offer')?.remove();
      },
      () => page.say(text.tour.failed),
    );
  }
}
