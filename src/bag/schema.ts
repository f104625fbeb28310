/**
 * The written form of a bag, version 1, piece by piece: each piece is validated by itself so that one broken panel does not hide the
 * faults of the others. Names, dimensions and geometry are checked afterwards (resolve).
 */
import { z } from 'zod';
import { LARGEST_STRAIN } from './renamed.ts';
import { entry, Size } from './schema-base.ts';
import { ClosureForm } from './schema-closures.ts';
import { HardwareForm } from './schema-hardware.ts';
import { MemberForm } from './schema-members.ts';
import { PanelForm } from './schema-panels.ts';
import { SeamForm, StrapForm } from './schema-sewing.ts';
import { MaterialForm, OptionForm, StackForm } from './schema-stacks.ts';
import { StanceForm } from './schema-stances.ts';
import { WANTED } from './words.ts';

/** The whole file, for editors that complete and check while typing. */
export const BagForm = entry({
  $schema: z.string({ error: 'text' }).optional().meta({ description: 'where an editor finds this schema; not read' }),
  slumpline: z.literal(1),
  name: z.string({ error: 'text' }).optional(),
  note: z.string({ error: 'text' }).optional(),
  wanted: z.enum(WANTED, { error: `one of ${WANTED.join(', ')}` }).optional(),
  [LARGEST_STRAIN]: z
    .number()
    .optional()
    .meta({ description: 'strain up to which cloth and straps are taken to carry, 0.001 to 1; 0.05 where none is stated' }),
  parameters: z.record(z.string(), Size).optional(),
  labels: z
    .record(z.string(), z.string({ error: 'text' }))
    .optional()
    .meta({ description: 'what a parameter is called, in words: {"dip": "Mouth dip"}' }),
  panels: z.record(z.string(), PanelForm),
  seams: z.record(z.string(), SeamForm).optional(),
  straps: z.record(z.string(), StrapForm).optional(),
  members: z
    .record(z.string(), MemberForm)
    .optional()
    .meta({ description: 'lines that are stiff by themselves: piping cord, boning, wire, binding, zip, frame; each bends with the cloth it lies along' }),
  hardware: z
    .record(z.string(), HardwareForm)
    .optional()
    .meta({ description: 'metal parts, each with its mass: rings, sliders, buckles, clasps, rivets, studs, corner plates; feet carry the bag off the table' }),
  closures: z
    .record(z.string(), ClosureForm)
    .optional()
    .meta({ description: 'what holds the bag shut; a stance says which of them are closed, and all weigh' }),
  materials: z.record(z.string(), MaterialForm).optional(),
  stacks: z.record(z.string(), StackForm),
  options: z.record(z.string(), OptionForm),
  stances: z.record(z.string(), StanceForm).optional(),
});
