/** Taking a bag in hand has its own door to the core: types on the page, the motion in its worker alone. */
export type { Bag, BagMesh, Fault } from '../../index.ts';
