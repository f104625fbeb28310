export { settle, type SettleOptions } from './settle.ts';
export { CAME_BACK, NUDGE, stand } from './stand.ts';
export { createSystem, type System } from './system.ts';
export { createFall, type Fall } from './fall.ts';
