/** What things may be called. */

const NAME = /^\p{L}[\p{L}\p{N} _'+-]*$/u;

/** Is this a name that edge references and formulas can hold ("front.left side")? For panels, edges, chains, seams, regions, marks. */
export const goodName = (name: string): boolean => name.length <= 60 && NAME.test(name) && !name.endsWith(' ');
export const NAME_RULE = "a name of letters, figures, spaces, plain hyphens -, + _ or ', that starts with a letter (at most 60)";

/** Is this a name that only stands as a key ("10 oz canvas, lined")? For materials, stacks, options, stances. */
export const goodLabel = (name: string): boolean =>
  name.length <= 80 && name.trim() === name && /\p{L}/u.test(name) && !/[\p{C}"\\]/u.test(name) && name !== '__proto__';
export const LABEL_RULE = 'a name with a letter in it, without quotes, on one line (at most 80)';
