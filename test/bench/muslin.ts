/** The bag with every stack, a hem's too, one layer of muslin: the softest cloth. Returns its file's text. */
export function inMuslin(text: string): string {
  const file = JSON.parse(text);
  const stacks = Object.fromEntries(Object.keys(file.stacks).map((name) => [name, ['muslin']]));
  return JSON.stringify({ ...file, stacks, options: { muslin: Object.values(file.options)[0] } });
}
