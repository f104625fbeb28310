/** Comes with the first click on a figure: where on the bag it was read. */
export { type Where, whereMeasured } from '../../index.ts';
