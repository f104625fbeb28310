/** Keys in the browser's own store. Nothing leaves the machine. */
const BAG = 'slumpline.bag';
/** A kept bag that this version cannot read: left as it was, out of the way of what is kept next. */
const UNREAD = 'slumpline.bag.unread';
const TRIAL = 'slumpline.trial';
const HISTORY = 'slumpline.history';
const PREFERENCES = 'slumpline.preferences';
const TOUR = 'slumpline.tour';
const SWATCH = 'slumpline.swatch';
const VIEW = 'slumpline.view';
/** Which of the maker's bags is on the mat. */
const ID = 'slumpline.bag.id';
function reach<T>(act: (store: Storage) => T): T | null {
  try {
    return act(window.localStorage);
  } catch {
    // Private windows and full disks refuse; the page goes on without keeping.
    return null;
  }
}

export const keptBag = (): string | null => reach((s) => s.getItem(BAG));

const keep = (key: string, content: string): boolean =>
  reach((s) => {
    s.setItem(key, content);
    return true;
  }) ?? false;

/** Returns false when the browser would not keep it. */
export const keepBag = (bag: string): boolean => keep(BAG, bag);

export const BAG_KEY = BAG;
export const newId = (): string => `${Date.now().toString(36)}-${Math.floor(Math.random() * 2 ** 40).toString(36)}`;
/** Id of the bag that was kept last, of whichever tab. */
export const keptId = (): string | null => reach((s) => s.getItem(ID));
export const keepId = (id: string): boolean => keep(ID, id);

/** Puts a kept bag aside under a key of its own, which nothing here writes again until another one cannot be read. Returns false when the browser would not keep it. */
export const setAside = (bag: string): boolean => keep(UNREAD, bag);

/** The bag that was put aside, as it was; null: none. */
export const unreadBag = (): string | null => reach((s) => s.getItem(UNREAD));

/** Whether the tour was gone through or declined; true as well where nothing can be kept, so that nobody is asked every time. */
export const tourAnswered = (): boolean => reach((s) => s.getItem(TOUR)) !== null || reach(() => true) === null;
export const keepTour = (): void => void keep(TOUR, 'left');

export const keptHistory = (): string | null => reach((s) => s.getItem(HISTORY));

/** A browser too full for the history still has the bag itself, which is written apart from it. Returns false when the history was not kept. */
export const keepHistory = (history: string): boolean => keep(HISTORY, history);

/** Whether the browser would keep a text, tried under a key of its own, so that nothing is said to be kept before. */
export const wouldKeep = (sample: string): boolean =>
  reach((s) => {
    s.setItem(TRIAL, sample);
    s.removeItem(TRIAL);
    return true;
  }) ?? false;

export const keptPreferences = (): Readonly<Record<string, unknown>> => keptRecord(PREFERENCES);

/** What was looked at. Every part may be missing or of an older version: whoever reads it takes what still makes sense. */
export const keptView = (): Readonly<Record<string, unknown>> => keptRecord(VIEW);
/** Adds to what is kept of the view. Returns false when the browser would not keep it. */
export const keepView = (part: {
  /** Name of the option being edited. */ readonly editing?: string;
  /** Name of the option that the others are compared with; '' for none. */ readonly against?: string;
  /** Figure whose place is marked on the bags. */ readonly mark?: string | null;
  /** Name of the stance shown. */ readonly stance?: string;
  /** Names of the options that are not on the mat. */ readonly off?: readonly string[];
}): boolean => keep(VIEW, JSON.stringify({ ...keptView(), ...part }));

/** What stood in the fields of the bench, as typed. */
export const keptSwatch = (): Readonly<Record<string, unknown>> => keptRecord(SWATCH);
/** Returns false when the browser would not keep it. */
export const keepSwatch = (entries: object): boolean => keep(SWATCH, JSON.stringify(entries));

function keptRecord(key: string): Readonly<Record<string, unknown>> {
  const kept = reach((s) => s.getItem(key));
  try {
    const value: unknown = JSON.parse(kept ?? '{}');
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

/** Returns false when the browser would not keep it. */
export const keepPreferences = (preferences: object): boolean => keep(PREFERENCES, JSON.stringify(preferences));

const TYPES = { json: 'application/json', html: 'text/html', csv: 'text/csv', png: 'image/png', zip: 'application/zip' } as const;

/** Hands a file of this name to the browser's download; returns the name. */
export function handOver(content: Blob, name: string): string {
  const url = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // Some browsers read the blob only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
  return link.download;
}

/** Hands a file to the browser's download; returns its name, NAME.KIND.json (or whatever its kind of file is). */
export function saveFile(name: string, content: BlobPart, kind = 'bag', ending: keyof typeof TYPES = 'json'): string {
  const stem = name
    .trim()
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-');
  return handOver(new Blob([content], { type: TYPES[ending] }), `${stem || kind}.${kind}.${ending}`);
}
