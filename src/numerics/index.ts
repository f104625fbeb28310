/** Numbers that know no bag: seeded chance, gravity, union-find, robust orientation. Every stage may import it, the solver too. */
export { GRAVITY } from './gravity.ts';
export { seeded } from './random.ts';
