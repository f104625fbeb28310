/**
 * The one camera of the line-up: an oblique view. The picture plane stays upright and parallel to the viewer, depth is drawn
 * shifted sideways and up. So every height is true to the tape whichever way the bags are turned, which no tilted
 * perspective or orthographic camera offers. World: z up, the front of the bag toward -y.
 */
export interface Camera {
  /** How far the bags are turned on the mat, rad. */ readonly turn: number;
  /** Upward shift per metre of depth: 0 = from straight ahead, 1 = well from above. */ readonly lift: number;
  /** Sideways shift per metre of depth. */ readonly slide: number;
  /** 1 = the bags fill their bays. */ readonly zoom: number;
  /** Where the middle of a bay looks, m: to the right of the bag's middle and above its usual place. */ readonly pan: readonly [number, number];
}

export const START_CAMERA: Camera = { turn: 0, lift: 0.3, slide: 0.4, zoom: 1, pan: [0, 0] };

/** Half extents of what is looked at, and its centre on the mat; metres. */
export interface Frame {
  readonly centre: readonly [number, number];
  readonly half: readonly [number, number];
  readonly height: number;
}

/** Parameters: drafted positions, 3n; also: further positions that must be seen. The frame's middle stays that of the drafted bag. */
export function frameOf(drafted: ArrayLike<number>, also: readonly ArrayLike<number>[] = []): Frame {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  const take = (x: ArrayLike<number>): void => {
    for (let i = 0; i < x.length; i++) {
      low[i % 3] = Math.min(low[i % 3], x[i]);
      high[i % 3] = Math.max(high[i % 3], x[i]);
    }
  };
  take(drafted);
  const centre = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2] as const;
  const floor = Math.min(0, low[2]);
  for (const x of also) take(x);
  const half = (k: 0 | 1): number => Math.max(high[k] - centre[k], centre[k] - low[k]);
  return { centre, half: [half(0), half(1)], height: high[2] - floor };
}

export interface Bay {
  readonly width: number;
  readonly height: number;
  /** Pixels from the bay's top to the tape's zero. */ readonly floor: number;
  /** Pixels per metre. */ readonly scale: number;
  /** Distance to the nearest point of all that is shown, so that drafted shapes stand on one line in every bay; default the frame's own. */ readonly near?: number;
}

/** Depth range covered by the depth buffer, m; bags are far smaller. */
const RANGE = 4;

/** Distance from the bag's middle to its nearest point on the mat: the tape stands there. */
export function nearDepth(frame: Frame, camera: Camera): number {
  return Math.abs(frame.half[0] * Math.sin(camera.turn)) + Math.abs(frame.half[1] * Math.cos(camera.turn));
}

/** Room that a frame's picture takes, m: to the sides however it is turned, and upward from the tape's zero. */
const room = (f: Frame, camera: Camera): { readonly wide: number; readonly high: number } => ({
  wide: 1.12 * Math.max(2 * f.half[0] + 2 * f.half[1] * camera.slide, 2 * Math.hypot(f.half[0], f.half[1])),
  high: 1.04 * (f.height + 2 * f.half[1] * camera.lift) + 0.01,
});

/** Pixels per metre at which every frame fits `width` and, above the tape's zero, `above` pixels; and the height that they then fill, px. */
export function fitting(frames: readonly Frame[], width: number, above: number, camera: Camera): { readonly scale: number; readonly filled: number } {
  if (frames.length === 0) return { scale: 600, filled: above };
  const rooms = frames.map((f) => room(f, camera));
  const byWidth = width / Math.max(...rooms.map((r) => r.wide));
  const high = Math.max(...rooms.map((r) => r.high));
  return { scale: Math.min(byWidth, above / high), filled: byWidth * high };
}

/**
 * How far the tape's zero moves down when the bags come closer, px: two thirds up the bag stays in place, because it is the mouth
 * that one wants to see from near. Further away than filling, the bags stay on their line.
 */
export function floorShift(frames: readonly Frame[], camera: Camera, fitted: number): number {
  const pivot = (2 / 3) * Math.max(0, ...frames.map((f) => f.height));
  return Math.round(Math.max(0, camera.zoom - 1) * fitted * pivot + camera.pan[1] * fitted * camera.zoom);
}

/** Column-major 4x4 from world metres to clip space for one bay. */
export function viewMatrix(camera: Camera, frame: Frame, bay: Bay): Float32Array {
  const c = Math.cos(camera.turn);
  const s = Math.sin(camera.turn);
  const [cx, cy] = frame.centre;
  const near = bay.near ?? nearDepth(frame, camera);
  const sx = (2 * bay.scale) / bay.width;
  const sy = (2 * bay.scale) / bay.height;
  // Turned position: x' = c x - s y, y' = s x + c y about the centre; screen X = x' + slide y', Y = z + lift (y' + near).
  const ax = c + camera.slide * s;
  const ay = -s + camera.slide * c;
  const bx = camera.lift * s;
  const by = camera.lift * c;
  const floorNdc = 1 - (2 * bay.floor) / bay.height;
  const m = new Float32Array(16);
  m[0] = sx * ax;
  m[4] = sx * ay;
  m[12] = -sx * (ax * cx + ay * cy + camera.pan[0]);
  m[1] = sy * bx;
  m[5] = sy * by;
  m[9] = sy;
  m[13] = floorNdc + sy * (camera.lift * near - bx * cx - by * cy);
  m[2] = s / RANGE;
  m[6] = c / RANGE;
  m[14] = -(s * cx + c * cy) / RANGE;
  m[15] = 1;
  return m;
}

/** Unit vector toward the viewer in view axes (x right, y away, z up). */
export function viewerDirection(camera: Camera): [number, number, number] {
  const l = Math.hypot(camera.slide, 1, camera.lift);
  return [camera.slide / l, -1 / l, camera.lift / l];
}

const clamp = (v: number, low: number, high: number): number => Math.min(high, Math.max(low, v));

export function moved(camera: Camera, by: { turn?: number; lift?: number; zoom?: number; pan?: readonly [number, number] }): Camera {
  const turn = camera.turn + (by.turn ?? 0);
  return {
    turn: turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI)),
    lift: clamp(camera.lift + (by.lift ?? 0), 0, 1),
    slide: camera.slide,
    zoom: clamp(camera.zoom * (by.zoom ?? 1), 0.5, 6),
    pan: [clamp(camera.pan[0] + (by.pan?.[0] ?? 0), -0.5, 0.5), clamp(camera.pan[1] + (by.pan?.[1] ?? 0), -0.5, 0.5)],
  };
}
