import { h, refill, svg } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { text } from '../page/text.ts';
import { SUPPORT_DISC } from './core.ts';
import type { Mark } from './dimensions.ts';
import { overlay } from './overlay.ts';
import { marksAt, TAPE_WIDTH } from './rule.ts';
import { around, type Box, boxOf, type Scene, type Screen, scaleFor } from './scene.ts';

/** A strip drawn from theory at once: points right and up, m. */
export interface Ghost {
  readonly points: readonly (readonly [number, number])[];
  readonly label: string;
}

/** Below this width, px, labels leave out the second unit. */
export const NARROW = 560;
/** Room for words and dimensions round the piece, px. */
const MARGIN = { left: TAPE_WIDTH + 44, right: 186, top: 58, bottom: 44 };

/** Room that the strips of most cloths need, m. */
const USUAL: Box = { left: 0, right: 0.12, low: -0.09, high: 0.02 };

/** The mat with the piece on it: a canvas for mat, furniture and cloth; over it a drawing of tape, dimensions and words. */
export class Picture {
  readonly element = h('div', { class: 'bench-mat', role: 'img', 'aria-label': text.swatch.coming });
  private readonly canvas = h('canvas', { class: 'bench-canvas' });
  private readonly over = svg('svg', { class: 'bench-over', 'aria-hidden': 'true', focusable: 'false' });
  private scene: Scene | null = null;
  private x: Float32Array | null = null;
  private rest: Float32Array | null = null;
  private marks: readonly Mark[] = [];
  private ghost: Ghost | null = null;
  private units: UnitChoice = 'metric';
  private stale = false;
  private asked = 0;
  constructor() {
    this.element.append(this.canvas, this.over);
    new ResizeObserver(() => this.redraw()).observe(this.element);
  }

  set(change: {
    readonly scene?: Scene | null;
    /** 3n positions to draw now. */ readonly x?: Float32Array | null;
    /** Where it will end, so that nothing leaves the picture on the way. */ readonly rest?: Float32Array | null;
    readonly marks?: readonly Mark[];
    readonly ghost?: Ghost | null;
    readonly units?: UnitChoice;
    readonly stale?: boolean;
    readonly label?: string;
  }): void {
    if (change.scene !== undefined) this.scene = change.scene;
    if (change.x !== undefined) this.x = change.x;
    if (change.rest !== undefined) this.rest = change.rest;
    if (change.marks !== undefined) this.marks = change.marks;
    if (change.ghost !== undefined) this.ghost = change.ghost;
    if (change.units !== undefined) this.units = change.units;
    if (change.stale !== undefined) this.stale = change.stale;
    if (change.label !== undefined) this.element.setAttribute('aria-label', change.label);
    this.redraw();
  }

  private redraw(): void {
    cancelAnimationFrame(this.asked);
    this.asked = requestAnimationFrame(() => this.draw());
  }

  private box(): Box {
    let box: Box | null = null;
    const take = (b: Box): void => {
      box = box ? around(box, b) : b;
    };
    if (this.scene) {
      take(boxOf(this.scene.view, this.scene.piece.start));
      if (this.rest) take(boxOf(this.scene.view, this.rest));
    }
    for (const [x, z] of this.ghost?.points ?? []) take({ left: x, right: x, low: z, high: z });
    for (const mark of this.marks) if (mark.kind === 'line') for (const [x, z] of [mark.from, mark.to]) take({ left: x, right: x, low: z, high: z });
    return box ?? { left: 0, right: 0.1, low: -0.05, high: 0.02 };
  }

  private draw(): void {
    const { clientWidth: width, clientHeight: height } = this.element;
    if (width === 0 || height === 0) return;
    const box = this.box();
    const right = width < NARROW ? 92 : MARGIN.right;
    const room = [width - MARGIN.left - right, height - MARGIN.top - MARGIN.bottom] as const;
    // Never closer than one scale for all: a cloth that hangs over twice as far has to look twice as long. What does not fit is drawn smaller, as the tape says.
    const scale = Math.min(scaleFor(box, room[0], room[1]), scaleFor(USUAL, room[0], room[1]));
    const screen: Screen = {
      scale,
      x0: MARGIN.left + room[0] / 2 - ((box.left + box.right) / 2) * scale,
      y0: MARGIN.top + room[1] / 2 + ((box.low + box.high) / 2) * scale,
    };
    const sharp = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(width * sharp);
    this.canvas.height = Math.round(height * sharp);
    const to = this.canvas.getContext('2d')!;
    to.setTransform(sharp, 0, 0, sharp, 0, 0);
    this.paintMat(to, width, height, screen);
    const zero = this.scene?.furniture === 'disc' ? screen.y0 - box.low * scale : screen.y0;
    if (this.scene && this.scene.furniture !== 'disc') paintFurniture(to, this.scene.furniture, screen, width, height);
    to.globalAlpha = this.stale ? 0.45 : 1;
    if (this.scene && this.x) {
      if (this.scene.furniture === 'disc') {
        paintShadow(to, this.scene, this.x, screen);
        paintMiddle(to, this.scene, screen);
      }
      this.scene.paint(to, this.x, screen);
    }
    to.globalAlpha = 1;
    this.over.setAttribute('viewBox', `0 0 ${width} ${height}`);
    const start = this.scene && !this.stale ? this.scene.startLine() : [];
    refill(this.over, ...overlay({ width, height, zero, screen, units: this.units, start, marks: this.marks, ghost: this.ghost }));
  }

  private paintMat(to: CanvasRenderingContext2D, width: number, height: number, screen: Screen): void {
    to.fillStyle = '#17403f';
    to.fillRect(0, 0, width, height);
    const { small, named } = marksAt(this.units, screen.scale);
    const lines = (step: number, ink: string): void => {
      to.strokeStyle = ink;
      to.lineWidth = 1;
      to.beginPath();
      const px = step * screen.scale;
      for (let x = screen.x0 % px; x < width; x += px) {
        to.moveTo(Math.round(x) + 0.5, 0);
        to.lineTo(Math.round(x) + 0.5, height);
      }
      for (let y = screen.y0 % px; y < height; y += px) {
        to.moveTo(0, Math.round(y) + 0.5);
        to.lineTo(width, Math.round(y) + 0.5);
      }
      to.stroke();
    };
    if (small * screen.scale >= 10) lines(small, 'rgb(255 255 255 / 4%)');
    lines(named, 'rgb(255 255 255 / 10%)');
  }
}

const BLOCK = '#0d2b2a';
const EDGE = 'rgb(244 241 230 / 75%)';

function paintFurniture(to: CanvasRenderingContext2D, kind: Scene['furniture'], { x0, y0 }: Screen, width: number, height: number): void {
  const block = (x: number, y: number, w: number, t: number): void => {
    to.fillStyle = BLOCK;
    to.fillRect(x, y, w, t);
    to.strokeStyle = EDGE;
    to.lineWidth = 1;
    to.strokeRect(x + 0.5, y + 0.5, w - 1, t - 1);
  };
  if (kind === 'edge') {
    block(-2, y0 + 2, x0 + 2, height - y0 + 2);
    // The ruler that holds the strip down up to the edge.
    block(x0 - 70, y0 - 9, 70, 7);
  } else if (kind === 'grip') block(x0 - 16, y0 - 18, 32, 18);
  else if (kind === 'foot') block(-2, y0, width + 4, height - y0 + 2);
  else if (kind === 'table') block(-2, y0 + 1, width + 4, height - y0 + 2);
  else block(-2, -2, x0 + 2, height + 4);
}

/** The middle of a round piece, which lies flat on its disc and is held there. */
function paintMiddle(to: CanvasRenderingContext2D, scene: Scene, { x0, y0, scale }: Screen): void {
  to.fillStyle = scene.flatColour();
  to.beginPath();
  to.arc(x0, y0, (SUPPORT_DISC / 2) * scale, 0, 2 * Math.PI);
  to.fill();
}

/** Shadow of the piece on the mat below, thrown straight down and drawn a little aside so that it can be seen. */
function paintShadow(to: CanvasRenderingContext2D, scene: Scene, x: Float32Array, { x0, y0, scale }: Screen): void {
  const { triVerts } = scene.piece;
  to.save();
  to.translate(10, 12);
  to.fillStyle = 'rgb(4 18 18 / 100%)';
  to.globalAlpha = 0.55;
  to.beginPath();
  for (let t = 0; t < triVerts.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const v = 3 * triVerts[t + k];
      const [a, b] = [x0 + x[v] * scale, y0 - x[v + 1] * scale];
      if (k === 0) to.moveTo(a, b);
      else to.lineTo(a, b);
    }
    to.closePath();
  }
  to.fill();
  to.restore();
}
