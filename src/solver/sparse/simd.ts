import { absorb } from './absorb-simd.ts';
import { eliminate } from './eliminate-simd.ts';
import { encodeModule } from './encode.ts';
import { sweepKernels } from './sweeps-simd.ts';

/** The WebAssembly kernels, bound to one memory; addresses and strides in bytes. */
export interface SimdKernels {
  eliminate(base: number, k: number, pivotGroups: number, groups: number, front: number, update: number, columnBytes: number, fresh: number): number;
  absorb1(...at: AbsorbArguments): void;
  absorb3(...at: AbsorbArguments): void;
  forward1(...at: SweepArguments): void;
  forward3(...at: SweepArguments): void;
  backward1(...at: SweepArguments): void;
  backward3(...at: SweepArguments): void;
}

type SweepArguments = [supernodes: number, superStart: number, rowStart: number, panelStart: number, rows: number, panels: number, y: number, gather: number];

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

/** What is used of WebAssembly. Named here because the library's declarations are compiled without any host's types. */
interface Host {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Memory: new (size: { initial: number; maximum: number }) => { readonly buffer: ArrayBuffer };
  readonly Instance: new (module: object, imports: object) => { readonly exports: unknown };
}
declare const WebAssembly: Host | undefined;
const host = typeof WebAssembly === 'object' ? WebAssembly : undefined;

/** undefined before the first try, null where WebAssembly or its SIMD is missing or forbidden. */
let compiled: object | null | undefined;

function compile(wasm: Host): object | null {
  try {
    return new wasm.Module(encodeModule([eliminate(), absorb(1), absorb(3), ...sweepKernels()]));
  } catch {
    return null;
  }
}

/** The compiled kernels (a WebAssembly.Module), to be handed to another thread; null where there are none. Compiled at the first call. */
export const compiledKernels = (): object | null => {
  if (compiled === undefined) compiled = host ? compile(host) : null;
  return compiled;
};

/** Takes the kernels that another thread has compiled; kept are those that are there already. Parameters: what its compiledKernels() gave. */
export function takeKernels(module: object | null): void {
  if (module !== null) compiled ??= module;
}

/** Which kernels factors use on this machine. */
export const kernelsInUse = (): 'SIMD' | 'plain' => (simdMemory(0) ? 'SIMD' : 'plain');

/** A memory of at least `bytes` with the kernels bound to it, or undefined where that is not to be had. */
export function simdMemory(bytes: number): { readonly buffer: ArrayBuffer; readonly kernels: SimdKernels } | undefined {
  const module = compiledKernels();
  const pages = Math.ceil(bytes / 65536);
  if (!host || module === null || pages > 65536) return undefined;
  try {
    const memory = new host.Memory({ initial: pages, maximum: pages });
    const instance = new host.Instance(module, { m: { m: memory } });
    return { buffer: memory.buffer, kernels: instance.exports as unknown as SimdKernels };
  } catch {
    return undefined;
  }
}
