export { blockAt, widen } from './blocks.ts';
export { allocateFactor, factorise, factorising, resizeFactor } from './factor.ts';
export { multiply } from './multiply.ts';
export { compiledKernels, kernelsInUse, takeKernels } from './simd.ts';
export { solve } from './solve.ts';
export { analyse, analyseAnew, analysing, analysingAnew } from './symbolic.ts';
export type { BlockPattern, Factor, Symbolic } from './types.ts';
