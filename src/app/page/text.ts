import { controls } from './text/controls.ts';
import { frame } from './text/frame.ts';
import { mat } from './text/mat.ts';
import { table } from './text/table.ts';

/**
 * Every word of the first view, so that it can be translated and read through at one go. What is loaded later has its words beside it
 * (bench, flat, heat, live, starts, straps, tour: words.ts; the options as rows: options-words.ts).
 */
export const text = { ...frame, ...controls, ...mat, ...table } as const;
