import { Matrix3, Camera as ThreeCamera, Vector2, Vector3, WebGLRenderer } from 'three';
import { TIGHT_CURVATURE } from '../core.ts';
import { FineDraw } from './fine-draw.ts';
import { MatSheet } from './mat-sheet.ts';
import { Picture, type Subject } from './picture.ts';
import { mapTexture, type SharedUniforms } from './programs.ts';
import { type Camera, fitting, floorShift, nearDepth, START_CAMERA, viewerDirection, viewMatrix } from './projection.ts';
import type { StrapLine } from './straps.ts';

/** Colour of paper, linear to the eye as the page has it. */
const PAPER = 0xfbfbf8;

/** Kept free above the bags for the options' names, css px. */
const HEADROOM = 64;

export interface StageOptions {
  /** Rule spacing of the mat, m: fine and coarse. */ readonly rule: readonly [number, number];
  /** Shaded as cloth, by curvature, or by what heat/paint.ts puts on the panels. */ readonly map: 'cloth' | 'curvature' | 'heat';
  /** plain: paper in place of the mat; none: nothing, on a stage that is clear. */ readonly ground?: 'mat' | 'plain' | 'none';
  /** The drafted outline beside the bags; default true. */ readonly outlined?: boolean;
  /** The front is left out, so that what is inside can be seen. */ readonly cutOpen?: boolean;
}

/**
 * One canvas over the whole mat; each bay is a scissored viewport of it. Draws only when asked.
 * Throws when the browser has no WebGL2.
 */
export class Stage {
  camera: Camera = START_CAMERA;
  /** Px per metre of the last drawing. */ scale = 600;
  /** Called with the height that the bags would fill at this width, px: a wide row of small bays needs less mat. */
  onNeed: (height: number) => void = () => {};
  /** Called after each drawing with px per metre and the tape's zero, px from the mat's top. */
  onScale: (scale: number, zero: number) => void = () => {};
  private readonly renderer: WebGLRenderer;
  private readonly shared: SharedUniforms;
  private readonly sheet = new MatSheet();
  private readonly eye = new ThreeCamera();
  private bays: { element: HTMLElement; picture: Picture | null }[] = [];
  /**
   * Pictures no longer shown. They go after the next drawing: a program that no material holds is thrown away, and the same one would be linked anew for
   * the picture that takes their place (370 ms in software, measured).
   */
  private readonly spent: Picture[] = [];
  private options: StageOptions = { rule: [0.0254, 0.1016], map: 'cloth' };
  private floor = 40;
  /** From the bags' middles to the nearest point of any, m. */ private near = 0;
  private fine: FineDraw | null = null;
  /** Of the last drawing, px, and how its bays lay. */
  private drawn: { readonly height: number; readonly floor: number; readonly layout: string } | null = null;
  private queued = 0;
  private rest = 0;
  /** A solver is at work. */ private busy = false;

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly software: boolean,
    clear = false,
  ) {
    const wishes = { antialias: !this.software, alpha: clear, depth: true, stencil: false };
    // Asked for here, because three.js calls a missing context an error aloud.
    const context = canvas.getContext('webgl2', wishes) as WebGL2RenderingContext | null;
    if (!context) throw new Error('no WebGL2');
    this.renderer = new WebGLRenderer({ canvas, context, ...wishes });
    // Asked for now, while nothing is being drawn: later the question waits for everything drawn before it (96 ms in software, measured).
    for (const name of ['WEBGL_multisampled_render_to_texture', 'EXT_texture_filter_anisotropic', 'OES_texture_float_linear', 'EXT_color_buffer_float'])
      this.renderer.extensions.has(name);
    this.renderer.autoClear = false;
    // Asking after each program would make the page wait for its compiler; a build for development asks.
    this.renderer.debug.checkShaderErrors = import.meta.env.DEV;
    this.shared = {
      uTurn: { value: new Matrix3() },
      uViewer: { value: new Vector3() },
      uPixel: { value: 1e-3 },
      uPoint: { value: 1e-3 },
      uSize: { value: new Vector2(1, 1) },
      uMap: { value: 0 },
      uTight: { value: TIGHT_CURVATURE },
      uScale: { value: mapTexture() },
    };
  }

  set(options: Partial<StageOptions>): void {
    this.options = { ...this.options, ...options };
    this.shared.uMap.value = ['cloth', 'curvature', 'heat'].indexOf(this.options.map);
    this.ask();
  }

  setBays(elements: readonly HTMLElement[]): void {
    const old = this.bays;
    this.bays = elements.map((element, i) => ({ element, picture: old[i]?.picture ?? null }));
    for (const { picture } of old.slice(elements.length)) if (picture) this.spent.push(picture);
    this.ask();
  }

  /** Gives a bay a new bag (or none). */
  setSubject(bay: number, subject: Subject | null): void {
    const slot = this.bays[bay];
    if (!slot) return;
    if (slot.picture) this.spent.push(slot.picture);
    slot.picture = subject ? new Picture(subject, this.shared, () => this.ask()) : null;
    this.ask();
  }

  /** straps: of a hung bag in motion, in the order of its subject's. */
  show(bay: number, x: ArrayLike<number>, straps: readonly StrapLine[] = []): void {
    this.bays[bay]?.picture?.show(x);
    this.bays[bay]?.picture?.hang(straps);
    this.ask();
  }

  /** px from a bay's left and the mat's top of a place on its bag, as last drawn; null for an empty bay. */
  project(bay: number, p: readonly [number, number, number]): readonly [number, number] | null {
    const slot = this.bays[bay];
    if (!slot?.picture || !this.drawn || slot.element.clientWidth === 0) return null;
    const [width, height] = [slot.element.clientWidth, this.drawn.height];
    const m = viewMatrix(this.camera, slot.picture.frame, { width, height, floor: this.drawn.floor, scale: this.scale, near: this.near });
    const x = m[0] * p[0] + m[4] * p[1] + m[8] * p[2] + m[12];
    const y = m[1] * p[0] + m[5] * p[1] + m[9] * p[2] + m[13];
    return [(0.5 + 0.5 * x) * width, (0.5 - 0.5 * y) * height];
  }

  /** Name of the panel seen at a place of the mat, px from its left and top; null beside the bags. */
  panelAt(left: number, top: number): string | null {
    const own = this.canvas.getBoundingClientRect();
    for (let bay = 0; bay < this.bays.length; bay++) {
      const box = this.bays[bay].element.getBoundingClientRect();
      const x = left - (box.left - own.left);
      if (x < 0 || x > box.width) continue;
      return this.bays[bay].picture?.panelAt([x, top], (p) => this.project(bay, p), this.camera.turn) ?? null;
    }
    return null;
  }

  middleOf(bay: number, panel: string): readonly [number, number, number] | null {
    return this.bays[bay]?.picture?.middleOf(panel) ?? null;
  }

  /** What a bay shows now, for whoever paints on it. */
  pictureOf(bay: number): Picture | null {
    return this.bays[bay]?.picture ?? null;
  }

  get panelNames(): readonly string[] {
    return this.bays.find((b) => b.picture)?.picture?.subject.mesh.panelNames ?? [];
  }

  pointOut(panel: string | null): void {
    for (const { picture } of this.bays) picture?.pointOut(panel);
    this.ask();
  }

  turnTo(camera: Camera): void {
    this.camera = camera;
    // Told to the page's own tests and to anyone who asks the document how the bags stand.
    this.canvas.dataset.turn = String(Math.round((this.camera.turn * 180) / Math.PI));
    this.ask();
  }

  /** Draws in the next frame; many asks in one frame are one drawing. */
  ask(): void {
    clearTimeout(this.rest);
    if (!this.queued) this.queued = requestAnimationFrame(() => this.draw(false));
  }

  /** A fine drawing in software takes a core for a second, and solvers need it more: it waits until they are done. */
  set working(busy: boolean) {
    if (this.busy === busy) return;
    this.busy = busy;
    if (busy) clearTimeout(this.rest);
    else this.ask();
  }

  /** Where the bays lie on the canvas, and its size, as text. */
  private layout(): string {
    const own = this.canvas.getBoundingClientRect();
    const bays = this.bays.map(({ element }) => element.getBoundingClientRect()).map((box) => [box.left - own.left, box.width]);
    return JSON.stringify([own.width, own.height, bays]);
  }

  /** Something on the page has another size: draws if the bays have moved. Words that come and go under the mat are no reason to, least of all in software, on the cores that settle. */
  resized(): void {
    if (this.drawn?.layout !== this.layout()) this.ask();
  }

  /** Pixels from the mat's foot up to the tape's zero. */
  setFloor(px: number): void {
    this.floor = px;
    this.ask();
  }

  /** Draws now, so that what is on the canvas can be read before the browser takes it away. ratio: drawn px per css px. */
  drawNow(ratio?: number): void {
    cancelAnimationFrame(this.queued);
    this.draw(false, ratio);
  }

  /** Lets go of the drawing context; nothing is drawn afterwards. */
  close(): void {
    cancelAnimationFrame(this.queued);
    clearTimeout(this.rest);
    for (const { picture } of this.bays) picture?.dispose();
    this.bays = [];
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }

  private draw(fine: boolean, density?: number): void {
    this.queued = 0;
    const width = this.canvas.clientWidth;
    const height = this.canvas.clientHeight;
    if (width === 0 || height === 0) {
      // Another screen is open. What was asked for is drawn when this one comes back, whether or not the bays lie as they did.
      this.drawn = null;
      return;
    }
    const ratio = density ?? (this.software ? 1 : Math.min(2, window.devicePixelRatio || 1));
    const r = this.renderer;
    if (r.getPixelRatio() !== ratio) r.setPixelRatio(ratio);
    if (this.canvas.width !== Math.floor(width * ratio) || this.canvas.height !== Math.floor(height * ratio)) r.setSize(width, height, false);

    const frames = this.bays.flatMap((b) => (b.picture ? [b.picture.frame] : []));
    const bayWidth = this.bays[0]?.element.clientWidth || width;
    const { scale: fitted, filled } = fitting(frames, bayWidth, height - this.floor - HEADROOM, START_CAMERA);
    const scale = fitted * this.camera.zoom;
    this.near = Math.max(0, ...this.bays.flatMap((b) => (b.picture ? [nearDepth(b.picture.upright, this.camera)] : [])));
    // A bag that fell over toward the viewer lies before the tape.
    const before = Math.max(0, ...frames.map((f) => nearDepth(f, this.camera))) - this.near;
    const floorPx = height - this.floor + floorShift(frames, this.camera, fitted) - Math.round(before * this.camera.lift * scale);
    this.scale = scale;
    this.drawn = { height, floor: floorPx, layout: this.layout() };
    if (frames.length > 0) this.onNeed(Math.ceil(filled + this.floor + HEADROOM));
    const paint = (times: number): void => {
      this.shareCamera(scale, ratio * times);
      const own = this.canvas.getBoundingClientRect();
      const first = this.bays[0]?.element.getBoundingClientRect();
      this.sheet.set({
        width,
        height,
        density: ratio * times,
        scale,
        floorPx,
        camera: this.camera,
        left: first ? first.left - own.left : 0,
        near: this.near,
        rule: this.options.rule,
      });
      r.setViewport(0, 0, times * width, times * height);
      const { ground = 'mat' } = this.options;
      r.setClearColor(ground === 'plain' ? PAPER : 0, ground === 'none' ? 0 : 1);
      r.clear();
      if (ground === 'mat') r.render(this.sheet.scene, this.eye);
      this.drawBays({ width, height, times, scale, floorPx });
    };
    if (fine) {
      this.fine ??= new FineDraw(r);
      this.fine.draw(width, height, this.eye, () => paint(2));
    } else paint(1);
    for (const picture of this.spent.splice(0)) picture.dispose();
    this.onScale(scale, floorPx);
    if (this.software && !fine && !this.busy) this.rest = window.setTimeout(() => this.draw(true), 300);
  }

  private drawBays(at: { width: number; height: number; times: number; scale: number; floorPx: number }): void {
    const { renderer: r, eye } = this;
    const own = this.canvas.getBoundingClientRect();
    const k = at.times;
    r.setScissorTest(true);
    for (const { element, picture } of this.bays) {
      if (!picture || element.clientWidth === 0) continue;
      const box = element.getBoundingClientRect();
      const left = box.left - own.left;
      if (left > at.width || left + box.width < 0) continue;
      const matrix = viewMatrix(this.camera, picture.frame, { width: box.width, height: at.height, floor: at.floorPx, scale: at.scale, near: this.near });
      eye.projectionMatrix.fromArray(matrix);
      picture.asCloth = this.options.map === 'cloth';
      picture.onPaper = this.options.ground === 'plain';
      picture.outlined = this.options.outlined !== false;
      picture.cutOpen = this.options.cutOpen === true;
      this.shared.uSize.value.set(box.width, at.height);
      r.setViewport(k * left, 0, k * box.width, k * at.height);
      r.setScissor(k * Math.max(0, left), 0, k * Math.min(box.width, at.width - left, box.width + left), k * at.height);
      r.render(picture.scene, eye);
    }
    r.setScissorTest(false);
  }

  private shareCamera(scale: number, density: number): void {
    const c = Math.cos(this.camera.turn);
    const s = Math.sin(this.camera.turn);
    this.shared.uTurn.value.set(c, -s, 0, s, c, 0, 0, 0, 1);
    this.shared.uViewer.value.set(...viewerDirection(this.camera));
    this.shared.uPixel.value = 1 / (scale * density);
    this.shared.uPoint.value = 1 / scale;
  }
}
