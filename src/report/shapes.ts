/** The settled bag for other programs; loaded when it is asked for (loadShapes), since it brings a library. */
export { bagGlb } from './shapes/gltf.ts';
export { bagStl } from './shapes/stl.ts';
