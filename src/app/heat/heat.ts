import '../style/heat.css';
import { leadOf } from '../line-up/figures.ts';
import { type Column, type HeatShade, isHeat, onlyStages, type Store } from '../page/store.ts';
import type { Picture } from '../view/picture.ts';
import type { Stage } from '../view/stage.ts';
import { type Colouring, type Findings, findingsOf, flatMap, type Result, type Scale, type SettledMaps, scaleOf } from './core.ts';
import { drawLabels } from './labels.ts';
import { type Line, showLegend } from './legend.ts';
import { Maker } from './maker.ts';
import { paint } from './paint.ts';
import { words } from './words.ts';

export interface HeatHost {
  readonly store: Store;
  readonly legend: HTMLElement;
  readonly bays: () => readonly HTMLElement[];
  readonly stage: () => Stage | null;
  readonly say: (line: string) => void;
  /** Without WebGL: what is drawn shows other maps now. */ readonly redraw: () => void;
}

/** One column's state with its maps, ready to be shown. */
interface Shown {
  readonly run: Result['runs'][number];
  readonly maps: SettledMaps;
  readonly found: Findings;
}

/** The maps of what the settled bags bear: asks for them, and keeps bags, labels and legend in step with the page's state. */
export class Heat {
  private readonly maker = new Maker(() => this.update());
  private shown: readonly (Shown | null)[] = [];
  private scale: Scale | null = null;
  private readonly painted = new WeakMap<Picture, string>();
  /** Names the maps on show; another name, other colours. */ private version = '';
  private said = '';
  constructor(private readonly host: HeatHost) {
    host.store.listen((now, before) => {
      if (!onlyStages(now, before)) this.update();
    });
    this.update();
  }

  /** Runs that are up to date have their maps asked for; the others show none. */
  private mapsOf(column: Column): { readonly run: Shown['run']; readonly maps: SettledMaps | string | null } | null {
    const run = column.result && !column.stale ? leadOf(column.result) : undefined;
    return run ? { run, maps: this.maker.of(column.result!, run) } : null;
  }

  private update(): void {
    const { host } = this;
    const { state } = host.store;
    const { shade } = state.preferences;
    if (!isHeat(shade)) {
      this.shown = [];
      this.scale = null;
      this.version = '';
      this.said = '';
      host.stage()?.ask();
      return;
    }
    const all = state.columns.map((c) => this.mapsOf(c));
    const ready = all.map((a) => (a && typeof a.maps === 'object' ? a.maps : null));
    const scale = scaleOf(
      shade,
      ready.filter((maps) => maps !== null),
      state.preferences.units === 'metric' ? 'metric' : 'inch',
    );
    const [before, version] = [this.shown, `${shade} ${scale.top}`];
    this.shown = ready.map(
      (maps, i): Shown | null =>
        maps && { run: all[i]!.run, maps, found: findingsOf(shade, state.bag, state.columns[i].result!.mesh, maps, scale, all[i]!.run) },
    );
    this.scale = scale;
    const changed = version !== this.version || ready.length !== before.length || ready.some((maps, i) => maps !== (before[i]?.maps ?? null));
    this.version = version;
    const lines = state.columns.flatMap((column, i): Line[] => {
      const a = all[i];
      if (!a) return column.result ? [{ letter: column.letter, found: null, words: words.stale }] : [];
      const why = typeof a.maps === 'string' ? words.failed(a.maps) : words.waiting;
      return [{ letter: column.letter, found: this.shown[i]?.found ?? null, words: why }];
    });
    showLegend(host.legend, shade, scale, lines);
    this.tell(shade, lines);
    const stage = host.stage();
    if (stage) stage.ask();
    else if (changed) host.redraw();
  }

  /** The map on column i's settled state for a drawing without WebGL; null where there is none (yet). */
  flat(i: number, result: Result): Colouring | null {
    const { shown, scale } = this;
    const { shade } = this.host.store.state.preferences;
    const own = shown[i];
    return own && scale && isHeat(shade) && own.run.positions === leadOf(result)?.positions ? flatMap(shade, result.mesh, own.maps, scale) : null;
  }

  /** Once every option that has settled has its map, says what they found; not again while that stays the same. */
  private tell(shade: HeatShade, lines: readonly Line[]): void {
    if (lines.length === 0 || lines.some((l) => l.found === null)) return;
    const said = words.ready(words.title[shade], lines.map((l) => words.option(l.letter, l.found!.line)).join('. '));
    if (said === this.said) return;
    this.said = said;
    this.host.say(said);
  }

  /** Called with every drawing of the mat: paints bags that came new, and puts the labels where their places are now. */
  draw(): void {
    const { host, scale, version } = this;
    const stage = host.stage();
    const { shade } = host.store.state.preferences;
    host.bays().forEach((bay, i) => {
      const shown = this.shown[i];
      const picture = stage?.pictureOf(i);
      const fits = shown && picture && !bay.classList.contains('in-hand') && picture.subject.mesh.vertexCount * 3 === shown.run.positions.length;
      if (!stage || !shown || !scale || !isHeat(shade) || !fits) {
        bay.querySelector('.heat-marks')?.replaceChildren();
        return;
      }
      if (this.painted.get(picture) !== version) {
        this.painted.set(picture, version);
        paint(picture, shade, shown.maps, scale, shown.run.positions);
        stage.ask();
      }
      drawLabels(bay, i, stage, shown.found.marks, shown.run.positions);
    });
  }
}
