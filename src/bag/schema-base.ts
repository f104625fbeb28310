/** What the pieces of the written form are made of: figures, places, objects that know their keys. */
import { z } from 'zod';
import { oneOf } from './faults.ts';

// zod would otherwise try to compile checks with new Function, which pages with a strict content policy forbid.
z.config({ jitless: true });

export const Size = z
  .union([z.string(), z.number()], { error: 'a figure with its unit or a formula, in quotes' })
  .meta({ description: 'length, angle or number: "300 mm", "12 3/8 in", "W/2 - R", "30 deg"; 0 needs no unit' });
export const Quantity = z
  .union([z.string(), z.number()], { error: 'a figure with its unit, in quotes' })
  .meta({ description: 'a figure with its unit: "10 oz/yd2", "55 uN.m", "5 kN/m"' });
export const Point = z.tuple([Size, Size], { error: 'a point [x, y]' }).meta({ description: '[x, y] in the panel: x right, y up the bag, seen from the face' });
export const Place = z.union([Point, z.string()], { error: 'a point [x, y] or a place on an edge such as "top[50%]"' });
export const Name = z.string();

/** An object that knows its keys; a stranger gets a guess at what was meant, one line per stranger (schemaFaults takes them apart). */
export function entry<S extends z.ZodRawShape>(shape: S) {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) => (issue.code === 'unrecognized_keys' ? issue.keys.map((key) => oneOf('a known entry', key, known)).join('\n') : undefined),
  });
}

export type SizeForm = z.infer<typeof Size>;
