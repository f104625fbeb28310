import type { Bag, Result } from '../index.ts';
import type { Core } from './core.ts';
import { EXIT, Failure, type OutFile } from './io.ts';

const SHAPES = ['glb', 'obj', 'stl'] as const;
export type ShapeKind = (typeof SHAPES)[number];

/** The shapes asked for; a Failure for others. mesh.obj is written with every result. */
export function readShapes(text: string | undefined, out: string | undefined): readonly ShapeKind[] {
  if (text === undefined) return [];
  const asked = text.split(',').map((s) => s.trim().toLowerCase());
  if (asked.some((s) => !SHAPES.some((k) => k === s)))
    throw new Failure(`invalid --shape "${text}": expected glb, obj, stl, or a list of them such as glb,stl\n`, EXIT.input);
  if (out === undefined) throw new Failure('--shape writes files: give --out <dir> as well, the folder for them\n', EXIT.input);
  return SHAPES.filter((k) => asked.includes(k));
}

/** Shapes of every result, by their names in its folder. */
export async function shapeFiles(
  core: Core,
  done: readonly { readonly bag: Bag; readonly results: readonly Result[] }[],
  shapes: readonly ShapeKind[],
): Promise<Map<Result, OutFile[]>> {
  const made = new Map<Result, OutFile[]>();
  if (!shapes.some((s) => s !== 'obj')) return made;
  const { bagGlb, bagStl } = await core.loadShapes();
  for (const { bag, results } of done)
    for (const r of results) {
      const { positions } = core.leadRun(r.runs);
      made.set(r, [
        ...(shapes.includes('glb') ? [{ path: 'shape.glb', text: await bagGlb(bag, r.option, r.mesh, positions) }] : []),
        ...(shapes.includes('stl') ? [{ path: 'shape.stl', text: bagStl(r.mesh, positions) }] : []),
      ]);
    }
  return made;
}
