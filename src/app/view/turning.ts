import { type Camera, moved, START_CAMERA } from './projection.ts';

/** Step of one key press or button press. */
export const TURN_STEP = Math.PI / 36;
export const LIFT_STEP = 0.05;
export const ZOOM_STEP = 1.15;

/** One step sideways or up with Shift, m. */
const PAN_STEP = 0.02;

const KEYS: Readonly<Record<string, (c: Camera) => Camera>> = {
  ArrowLeft: (c) => moved(c, { turn: -TURN_STEP }),
  ArrowRight: (c) => moved(c, { turn: TURN_STEP }),
  ArrowUp: (c) => moved(c, { lift: LIFT_STEP }),
  ArrowDown: (c) => moved(c, { lift: -LIFT_STEP }),
  '+': (c) => moved(c, { zoom: ZOOM_STEP }),
  '=': (c) => moved(c, { zoom: ZOOM_STEP }),
  '-': (c) => moved(c, { zoom: 1 / ZOOM_STEP }),
  '0': () => START_CAMERA,
  Home: () => START_CAMERA,
};

const SHIFTED: Readonly<Record<string, (c: Camera) => Camera>> = {
  ArrowLeft: (c) => moved(c, { pan: [-PAN_STEP, 0] }),
  ArrowRight: (c) => moved(c, { pan: [PAN_STEP, 0] }),
  ArrowUp: (c) => moved(c, { pan: [0, PAN_STEP] }),
  ArrowDown: (c) => moved(c, { pan: [0, -PAN_STEP] }),
};

/**
 * Turns the bags by mouse and by keys. Keys are heard on the canvas only: on the window, arrow keys in a number field would
 * turn the bags as well. Touch is left to scrolling, or a narrow screen could not be moved past the picture; the buttons serve it.
 */
export function listenForTurning(canvas: HTMLElement, get: () => Camera, set: (camera: Camera) => void, scale: () => number): void {
  canvas.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = (event.shiftKey ? SHIFTED[event.key] : undefined) ?? KEYS[event.key];
    if (!act) return;
    event.preventDefault();
    set(act(get()));
  });
  let held: { id: number; x: number; y: number } | null = null;
  canvas.addEventListener('pointerdown', (event) => {
    if (event.pointerType === 'touch' || event.button !== 0) return;
    held = { id: event.pointerId, x: event.clientX, y: event.clientY };
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener('pointermove', (event) => {
    if (held?.id !== event.pointerId) return;
    const dx = event.clientX - held.x;
    const dy = event.clientY - held.y;
    held = { id: held.id, x: event.clientX, y: event.clientY };
    // With Shift the mat moves with the hand: as many metres as the pointer went at this scale.
    set(moved(get(), event.shiftKey ? { pan: [-dx / scale(), dy / scale()] } : { turn: dx * 0.008, lift: dy * 0.004 }));
  });
  const release = (event: PointerEvent): void => {
    if (held?.id === event.pointerId) held = null;
  };
  canvas.addEventListener('pointerup', release);
  canvas.addEventListener('pointercancel', release);
  canvas.addEventListener(
    'wheel',
    (event) => {
      // A plain wheel scrolls the page past the mat; with Ctrl (and a trackpad's pinch) it comes closer.
      if (!event.ctrlKey) return;
      event.preventDefault();
      set(moved(get(), { zoom: Math.exp(-event.deltaY * 0.004) }));
    },
    { passive: false },
  );
}
