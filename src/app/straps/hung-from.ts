import { type Bag, type HangsFrom, type Stance, usualHung } from './core.ts';
import { words } from './words.ts';

type Hung = Extract<Stance, { kind: 'hung' }>;

/** Things that any bag can be hung from, whatever its file says, with their usual figures. */
const ANYTHING = ['hook', 'bar', 'shoulder', 'hands'] as const satisfies readonly HangsFrom[];
const MARK = 'usual:';

export const hungStances = (bag: Bag): readonly Hung[] => bag.stances.filter((s): s is Hung => s.kind === 'hung');

/** Choices of what the bag hangs from: the file's own stances first, then whatever else there is to hang it from. */
export const hangChoices = (bag: Bag): readonly { readonly value: string; readonly label: string }[] => [
  ...hungStances(bag).map((s) => ({ value: s.name, label: words.asIn(s.name, words.froms[s.from]) })),
  ...ANYTHING.map((from) => ({ value: MARK + from, label: words.froms[from] })),
];

/** What stands in the field where nothing else was chosen. */
export const firstChoice = (bag: Bag, wanted: string): string => {
  const all = hangChoices(bag).map((c) => c.value);
  return all.includes(wanted) ? wanted : (hungStances(bag)[0]?.name ?? `${MARK}hook`);
};

/** The bag with the stance that a choice names, and that stance's name; one that the file does not have is added with the usual figures, all straps carrying. */
export function hungAs(bag: Bag, choice: string): { readonly bag: Bag; readonly stance: string } {
  const from = ANYTHING.find((f) => choice === MARK + f);
  if (!from) return { bag, stance: choice };
  const stance = words.hungFrom(words.froms[from]);
  const straps = bag.straps.map((s) => s.name);
  return { bag: { ...bag, stances: [...bag.stances.filter((s) => s.name !== stance), usualHung(stance, from, straps)] }, stance };
}
