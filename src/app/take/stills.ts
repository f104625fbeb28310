import type { Result } from '../core.ts';
import { h } from '../page/dom.ts';
import type { Camera, Frame } from '../view/projection.ts';
import { nearDepth, START_CAMERA } from '../view/projection.ts';
import { Stage } from '../view/stage.ts';
import type { ImageOf } from './image.ts';

/** Above the bags a stage keeps room for words, css px: it is cut off. */
const HEADROOM = 64;
/** Under the bags, css px: what of the mouth of a shadow or a sagging base lies below the tape's zero. */
const FLOOR = 40;
/** Widest picture whose edges are smoothed, px. */
const SMOOTHED = 2400;
/** Pixels of a screen in an inch: lines are drawn as thick as on one. */
const SCREEN = 96;

export interface StillWish {
  /** px */ readonly width: number;
  /** Per inch, as it will be printed: seams and stitches keep their thickness on paper. */ readonly dots: number;
  readonly ground: 'plain' | 'none';
  /** The outline that the bag was drafted to. */ readonly outlined: boolean;
}

/** Resolves once the pictures made before have their stitches and closures: these come in after a picture is made. */
export async function trimmed(): Promise<void> {
  await Promise.all([import('../view/stitches.ts'), import('../view/closures.ts')]);
  await new Promise((resolve) => setTimeout(resolve));
}

/** Depth of a frame from its middle however it is turned, m. */
const reach = (f: Frame): number => Math.hypot(...f.half);

/** Room to the sides, however it is turned, m: as projection.ts has it. */
const wideOf = (f: Frame, slide: number): number => 1.12 * Math.max(2 * f.half[0] + 2 * f.half[1] * slide, 2 * reach(f));

/** Settled bags side by side without words, drawn again and again under other cameras. Errors: no WebGL, or a picture larger than this browser draws. */
export class Stills {
  readonly width: number;
  readonly height: number;
  private readonly canvas = h('canvas', {});
  private readonly host = h('div', { 'aria-hidden': 'true' }, this.canvas);
  private readonly stage: Stage;
  private readonly ratio: number;
  private readonly frames: readonly Frame[];
  private readonly top: number;

  /** turning: the bags are seen from every side, so the picture has room for that. */
  constructor(
    results: readonly Result[],
    of: Pick<ImageOf, 'subject' | 'camera'>,
    wish: StillWish,
    private readonly turning: boolean,
  ) {
    const wide = Math.max(1, Math.round((wish.width * SCREEN) / wish.dots));
    // A hair more, so that rounding down gives the width that was asked for.
    this.ratio = (wish.width + 0.01) / wide;
    this.width = wish.width;
    const place = (high: number): void => {
      this.host.setAttribute('style', `position:fixed;left:-20000px;top:0;width:${wide}px;height:${high}px`);
      this.canvas.setAttribute('style', `position:absolute;left:0;top:0;width:${wide}px;height:${high}px`);
    };
    place(wide);
    const bays = results.map((_, i) =>
      h('div', { style: `position:absolute;top:0;left:${(i * wide) / results.length}px;width:${wide / results.length}px;height:100%` }),
    );
    this.host.append(...bays);
    document.body.append(this.host);
    try {
      // Edges smoothed by drawing four times the points are no longer seen at so many.
      this.stage = new Stage(this.canvas, wish.width > SMOOTHED, true);
      this.stage.working = true;
    } catch (error) {
      this.host.remove();
      throw error;
    }
    const { stage } = this;
    stage.setBays(bays);
    stage.set({ ground: wish.ground, map: 'cloth', outlined: wish.outlined });
    results.forEach((result, i) => {
      const { subject, positions } = of.subject(result);
      // What sagged or leans beyond the drafted bag is in the picture too.
      stage.setSubject(i, positions ? { ...subject, fallen: positions } : subject);
      if (positions) stage.show(i, positions);
    });
    this.frames = results.flatMap((_, i) => stage.pictureOf(i)?.frame ?? []);
    const { lift } = of.camera;
    // As wide as a bay lets it be, whichever way it is turned (projection.ts); as high as it then needs.
    const scale = wide / results.length / Math.max(...this.frames.map((f) => wideOf(f, of.camera.slide)));
    const deep = (f: Frame): number => (turning ? reach(f) : Math.max(nearDepth(f, of.camera), f.half[1]));
    const high =
      Math.ceil(scale * Math.max(...this.frames.map((f) => 1.06 * (f.height + Math.max(2 * lift * deep(f), 2 * START_CAMERA.lift * f.half[1])) + 0.015))) +
      FLOOR;
    place(high + HEADROOM);
    stage.setFloor(FLOOR);
    this.top = Math.round(HEADROOM * this.ratio);
    this.height = Math.floor((high + HEADROOM) * this.ratio) - this.top;
  }

  /** What one camera sees, as a PNG file that says nothing of its size. */
  async draw(camera: Camera): Promise<Blob> {
    const { stage, canvas, ratio, width, height, top } = this;
    // The tape stands before the nearest point, which turning moves; here the bag's middle stays where it is.
    const near = Math.max(...this.frames.map((f) => nearDepth(f, camera)));
    const far = Math.max(...this.frames.map(reach));
    stage.turnTo({ ...camera, zoom: 1, pan: [0, this.turning ? camera.lift * (near - far) : 0] });
    await trimmed();
    stage.drawNow(ratio);
    const buffer = canvas.getContext('webgl2');
    if (!buffer || buffer.drawingBufferWidth < width) throw new Error('too large');
    const out = h('canvas', { width, height });
    const paint = out.getContext('2d');
    if (!paint) throw new Error('too large');
    paint.drawImage(canvas, 0, -top);
    return new Promise((resolve, reject) => out.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('too large'))), 'image/png'));
  }

  close(): void {
    this.stage.close();
    this.host.remove();
  }
}
