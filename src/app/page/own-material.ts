import { BagError } from '../core.ts';
import type { BagEdits } from './bag-edits.ts';
import { withMaterial, withOption, withShell } from './bag-form.ts';
import { tryParse, written } from './opening.ts';
import type { Store } from './store.ts';
import { text } from './text.ts';

/** What became of a material of the maker's own: where it is used now, or why it is not. */
export type Taken = { readonly where: string; readonly replaced: boolean } | { readonly why: string };

/**
 * Takes a material of the maker's own into the bag and, unless it is only for the lists, makes it the shell of an option. Nothing changes if it does not
 * parse. Parameters: `where` is 'list', 'new' (a new option) or a column's index; `fused`: the swatch was the finished, fused stack.
 */
export function useMaterial(store: Store, edits: BagEdits, id: string, material: unknown, where: string, fused: boolean): Taken {
  const { form, bag, columns, editing } = store.state;
  const replaced = bag.materials.some((m) => m.id === id);
  let next = withMaterial(form, id, material);
  let option: string | null = null;
  if (where !== 'list') {
    const from = where === 'new' ? columns[editing].option : (columns[Number(where)]?.option ?? columns[editing].option);
    option = from;
    if (where === 'new') {
      const added = withOption(next, from);
      next = added.form;
      option = added.option;
    }
    next = withShell(next, bag, { option, from, material: id, alone: fused }, text.controls.groups);
  }
  const parsed = tryParse(written(next));
  if (parsed instanceof BagError) return { why: parsed.faults.map((f) => `${f.path}: ${f.got}; expected ${f.expected}`).join('; ') };
  edits.change(next, text.swatch.added(id));
  if (option === null) return { where: text.swatch.choice, replaced };
  const index = store.state.columns.findIndex((c) => c.option === option);
  store.set({ editing: index });
  return { where: text.swatch.shell(store.state.columns[index].letter), replaced };
}
