import { z } from 'zod';
import { BagForm } from './schema.ts';

/** JSON schema (draft 2020-12) of the bag file, for editors. Returns a plain object. */
export const bagJsonSchema = (): unknown => z.toJSONSchema(BagForm, { io: 'input' });
