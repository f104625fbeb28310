export { toEnd, type Work } from '../numerics/index.ts';
