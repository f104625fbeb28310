import { encodeModule } from './encode.ts';
import { kernels } from './kernels.ts';

/** The WebAssembly kernels, bound to one memory; addresses and strides in bytes. */
export interface SimdKernels {
  eliminate(base: number, k: number, pivotGroups: number, groups: number, front: number, update: number, columnBytes: number, fresh: number): number;
  absorb1(...at: AbsorbArguments): void;
  absorb3(...at: AbsorbArguments): void;
}

type AbsorbArguments = [
  update: number,
  childBytes: number,
  relative: number,
  blocks: number,
  kBlocks: number,
  base: number,
  k: number,
  front: number,
  columnBytes: number,
  landing: number,
];

/** undefined before the first try, null where WebAssembly or its SIMD is missing or forbidden. */
let compiled: WebAssembly.Module | null | undefined;

function compile(): WebAssembly.Module | null {
  try {
    return new WebAssembly.Module(encodeModule(kernels()));
  } catch {
    return null;
  }
}

/** A memory of at least `bytes` with the kernels bound to it, or undefined where that is not to be had. */
export function simdMemory(bytes: number): { readonly buffer: ArrayBuffer; readonly kernels: SimdKernels } | undefined {
  if (compiled === undefined) compiled = typeof WebAssembly === 'object' ? compile() : null;
  const pages = Math.ceil(bytes / 65536);
  if (compiled === null || pages > 65536) return undefined;
  try {
    const memory = new WebAssembly.Memory({ initial: pages, maximum: pages });
    const instance = new WebAssembly.Instance(compiled, { m: { m: memory } });
    return { buffer: memory.buffer as ArrayBuffer, kernels: instance.exports as unknown as SimdKernels };
  } catch {
    return undefined;
  }
}
