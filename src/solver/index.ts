export { distance } from './contact/shapes.ts';
export { createFall, type Fall } from './fall.ts';
export { type SettleOptions, settle } from './settle.ts';
export { CAME_BACK, NUDGE, stand } from './stand.ts';
export { createSystem, type System } from './system.ts';
