/** The maps' door to the core: only types, so that nothing of the solver is loaded with their drawing. */
export type { Bag, BagMesh, Colouring, GapMap, PanelPoint, Result, SeamForces, SeamPoint, Settled, SettledMaps, StrainMap } from '../../index.ts';
