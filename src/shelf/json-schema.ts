import { z } from 'zod';
import { ShelfForm } from './schema.ts';

/** JSON schema (draft 2020-12) of the shelf file, for editors. Returns a plain object. */
export const shelfJsonSchema = (): unknown => z.toJSONSchema(ShelfForm, { io: 'input' });
