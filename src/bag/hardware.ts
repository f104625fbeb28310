/** Written hardware to places and figures. What its kinds weigh: material/hardware.ts. */

import { polygonOf } from './curve.ts';
import { at, oneOf } from './faults.ts';
import { outside, placeOn } from './panels.ts';
import type { ParseContext } from './parse-context.ts';
import type { HardwareForm } from './schema-hardware.ts';
import type { Hardware, Panel, Point2 } from './types.ts';

/** A tiny stud to a large plate, m; a pinhead to a padlock, kg; a flat foot to a stand, m. Beyond is a slip of the unit. */
const SIZES = { min: 2e-3, max: 0.2 } as const;
const MASSES = { min: 1e-5, max: 1 } as const;
const HEIGHTS = { min: 1e-3, max: 0.05 } as const;

/** Hardware, or null where none of its places is taken, or after its faults: a panel or a place that is not there, a size or mass that no such thing has, "other" without a mass, a height of anything but feet. */
export function resolveHardware(ctx: ParseContext, name: string, form: HardwareForm, panels: readonly Panel[]): Hardware | null {
  const path = at('hardware', name),
    { faults } = ctx,
    count = faults.faults.length,
    known = panels.some((p) => p.name === form.panel);
  if (!known)
    faults.add(
      at(path, 'panel'),
      form.panel,
      oneOf(
        'a panel of this bag',
        form.panel,
        panels.map((p) => p.name),
      ),
    );
  const places: Point2[] = [];
  if (known)
    form.at.forEach((written, i) => {
      const here = at(at(path, 'at'), i),
        spot = ctx.attempt(here, written, () => placeOn(ctx, here, form.panel, written, ctx.drawn(form.panel)));
      if (spot && outside(spot, polygonOf(ctx.drawn(form.panel).outline))) faults.add(here, written, 'a point inside the panel');
      else if (spot) places.push(spot);
    });
  const taken = form.count === undefined ? form.at.length : ctx.size(at(path, 'count'), form.count, 'number', { min: 0, max: form.at.length });
  if (taken !== null && !Number.isInteger(taken)) faults.add(at(path, 'count'), form.count, `a whole number up to ${form.at.length}, the places under "at"`);
  const size = form.size === undefined ? null : ctx.size(at(path, 'size'), form.size, 'length', SIZES);
  const mass = form.mass === undefined ? null : ctx.quantity(at(path, 'mass'), form.mass, 'mass', MASSES);
  const height = form.height === undefined ? null : ctx.size(at(path, 'height'), form.height, 'length', HEIGHTS);
  if (form.kind === 'other' && form.mass === undefined) faults.addText(at(path, 'mass'), 'nothing', 'a mass of its own: "other" has none');
  if (form.kind !== 'foot' && form.height !== undefined) faults.add(at(path, 'height'), form.height, 'a height of feet alone');
  if (faults.faults.length > count || taken === null || taken === 0) return null;
  return { name, kind: form.kind, panel: form.panel, at: places.slice(0, taken), size, mass, height };
}
