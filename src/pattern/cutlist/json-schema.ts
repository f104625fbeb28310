import { z } from 'zod';
import { CutListFile } from './list-schema.ts';

/** JSON schema (draft 2020-12) of the cutting list's JSON. Returns a plain object. */
export const cutListJsonSchema = (): unknown => z.toJSONSchema(CutListFile);
