import type { Colouring, Result } from '../core.ts';
import { isHeat, type Store } from '../page/store.ts';
import { text } from '../page/text.ts';
import { isSoftware } from '../view/software.ts';
import { Stage } from '../view/stage.ts';
import { listenForTurning } from '../view/turning.ts';
import type { BayHeadings } from './bay-headings.ts';
import { FLOOR } from './bay-headings.ts';
import { isHeap, leadOf } from './figures.ts';
import { arrowScale, drawMarks, type Measured } from './measure-marks.ts';
import type { Where } from './measured-where.ts';

export interface PicturesOptions {
  /** What the mat scrolls in. */ readonly frame: HTMLElement;
  /** A panel pointed out on a bag, or none any more. */ point(panel: string | null): void;
  /** The drawings that stand for the bags without WebGL are to be made anew. */ redraw(): void;
  say(line: string): void;
}

/** The bags on the mat: the stage they are drawn on, and what is written over them (the panel pointed out, a figure's dimension line, the straps' pulls). */
export class Pictures {
  /** null: not opened yet, or this browser draws no three-dimensional pictures. */
  stage: Stage | null = null;
  /** true: opening was tried in vain. */
  flatOnly = false;
  private pointed: string | null = null;
  private measured: Measured | null = null;
  /** px from the mat's top, as last drawn. */
  private tapeZero = 0;
  private heat: import('../heat/heat.ts').Heat | null = null;
  private heatAsked = false;
  private where: typeof import('./measured-where.ts') | null = null;
  /** Places are worked out once a result, not once a drawing. */
  private readonly places = new WeakMap<Result, Where>();
  constructor(
    private readonly store: Store,
    private readonly headings: BayHeadings,
    private readonly o: PicturesOptions,
  ) {}

  /** WebGL is asked for in a worker and then opened in a task of its own, so that none is long. */
  async open(): Promise<void> {
    const software = await isSoftware();
    this.stage = this.openStage(software);
    this.flatOnly = this.stage === null;
    this.stage?.setBays(this.headings.bayElements);
    this.showPreferences();
  }

  showPreferences(): void {
    const { units, shade } = this.store.state.preferences;
    if (isHeat(shade) && !this.heatAsked) this.loadHeat();
    this.stage?.set({ map: isHeat(shade) ? 'heat' : shade, rule: units !== 'metric' ? [0.0254, 0.1016] : [0.02, 0.1] });
  }

  /** The maps of what the cloth bears, their worker and their words come when one of them is first chosen. */
  private loadHeat(): void {
    this.heatAsked = true;
    const { store, headings, o } = this;
    import('../heat/heat.ts').then(
      (m) => {
        this.heat = new m.Heat({ store, legend: headings.legend, bays: () => headings.bayElements, stage: () => this.stage, say: o.say, redraw: o.redraw });
      },
      () => {
        this.heatAsked = false;
        headings.legend.textContent = text.mat.mapFailed;
      },
    );
  }

  /** What a map makes of column i's bag in a drawing without WebGL; null: lit as cloth. */
  async colouring(i: number, result: Result): Promise<Colouring | null> {
    const { shade } = this.store.state.preferences;
    const run = leadOf(result);
    if (shade !== 'curvature') return this.heat?.flat(i, result) ?? null;
    return run ? (await import('../heat/core.ts')).flatCurvature(result.mesh, run.positions) : null;
  }

  /** Lights a panel up on every bag. */
  pointOut(panel: string | null): void {
    this.pointed = panel;
    this.stage?.pointOut(panel);
  }

  /** Shows where a figure was measured, or with null nothing any more. */
  measure(figure: Measured | null): void {
    this.measured = figure;
    void import('./measured-where.ts').then((m) => {
      this.where = m;
      this.stage?.ask();
    });
  }

  /** Pictures of the bays as they are now, for paper: a browser prints no WebGL. */
  private forPaper(): void {
    const { stage, headings } = this;
    if (!stage) return;
    stage.set({ ground: 'plain' });
    stage.drawNow();
    const { canvas } = headings;
    const own = canvas.getBoundingClientRect();
    const density = canvas.width / own.width;
    headings.bayElements.forEach((bay, i) => {
      const box = bay.getBoundingClientRect();
      const cut = document.createElement('canvas');
      cut.width = Math.round(box.width * density);
      cut.height = canvas.height;
      cut.getContext('2d')?.drawImage(canvas, (own.left - box.left) * density, 0);
      headings.showPaper(i, cut.toDataURL());
    });
    stage.set({ ground: 'mat' });
  }

  private placesOf(m: typeof import('./measured-where.ts'), result: Result, settled: Float64Array): Where {
    const known = this.places.get(result) ?? m.whereMeasured(this.store.state.bag, result.mesh, result.drafted, settled);
    this.places.set(result, known);
    return known;
  }

  /** Redraws what is written over the bags: the panel pointed out, the dimension line of the figure asked for. */
  private drawMarks(): void {
    const { store, headings, stage, where, pointed, measured, tapeZero } = this;
    const { columns, preferences } = store.state;
    const runs = columns.flatMap((c) => (c.result && !c.stale ? [leadOf(c.result)] : []));
    const scale = arrowScale(
      runs.flatMap((r) => r?.hung?.straps.flatMap((s) => s.anchors.map((a) => a.size)) ?? []),
      preferences.units,
    );
    headings.bayElements.forEach((bay, i) => {
      const result = columns[i]?.result;
      const run = result && !columns[i].stale ? leadOf(result) : null;
      const at = pointed === null ? null : (stage?.middleOf(i, pointed) ?? null);
      drawMarks(
        {
          bay,
          project: (p) => stage?.project(i, p) ?? null,
          pointed: pointed !== null && at ? { panel: pointed, at } : null,
          measured:
            measured !== null && where && result && run ? { figure: measured, where: this.placesOf(where, result, run.positions), heap: isHeap(result) } : null,
          pulls: measured === 'pulls' && run?.hung ? { hung: run.hung, scale, foot: Math.min(tapeZero + 12, headings.canvas.clientHeight - 28) } : null,
        },
        preferences.units,
      );
    });
    this.heat?.draw();
  }

  private openStage(software: boolean): Stage | null {
    const { store, headings, o } = this;
    try {
      const made = new Stage(headings.canvas, software);
      made.setFloor(FLOOR);
      made.onScale = (scale, zero) => {
        this.tapeZero = zero;
        headings.setScale(scale, zero, store.state.preferences.units);
        this.drawMarks();
      };
      headings.canvas.addEventListener('pointermove', (event) => {
        if (event.buttons === 0) o.point(made.panelAt(event.offsetX, event.offsetY));
      });
      headings.canvas.addEventListener('pointerleave', () => o.point(null));
      headings.canvas.addEventListener('blur', () => o.point(null));
      headings.canvas.addEventListener('keydown', (event) => {
        if (event.key.toLowerCase() !== 'n' || event.ctrlKey || event.metaKey || event.altKey) return;
        const names = made.panelNames;
        const next = names.indexOf(this.pointed ?? '') + (event.shiftKey ? -1 : 1);
        const panel = names[(next + names.length) % names.length] ?? null;
        o.point(panel);
        if (panel) o.say(panel);
      });
      made.onNeed = (height) => headings.element.style.setProperty('--need', `${height}px`);
      listenForTurning(
        headings.canvas,
        () => made.camera,
        (camera) => made.turnTo(camera),
        () => made.scale,
      );
      const redraw = (): void => {
        // The canvas is as wide as what can be seen of the mat, however far the bays reach beyond it.
        headings.element.style.setProperty('--seen', `${o.frame.clientWidth}px`);
        made.resized();
      };
      new ResizeObserver(redraw).observe(o.frame);
      o.frame.addEventListener('scroll', redraw, { passive: true });
      window.addEventListener('beforeprint', () => this.forPaper());
      return made;
    } catch {
      return null;
    }
  }
}
