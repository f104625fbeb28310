import {
  aroundFrom,
  type Bag,
  type BagDocument,
  checkMembers,
  closureLine,
  type Draft,
  type HardwareKind,
  hardwareFigures,
  hardwareWords,
  type MemberKind,
  memberFigures,
  memberWords,
} from '../../index.ts';

/** What is written of a trim by the file's own keys; a key is absent where nothing is. */
export type Written = Readonly<Record<string, string | undefined>>;

/** A cord, boning or the like on the drafting table. */
export interface BoardMember {
  readonly name: string;
  readonly kind: MemberKind;
  /** "paper cord of 4 mm" */ readonly said: string;
  /** Edges and lines that it runs along, "front.top". */ readonly refs: readonly string[];
  readonly written: Written;
  /** Of its kind and size: N*m2, N, kg/m, m. */ readonly usual: {
    readonly rigidity: number;
    readonly stretch: number;
    readonly mass: number;
    readonly length: number;
  };
  readonly ring: boolean;
  /** kg */ readonly mass: number;
}

export interface BoardClosure {
  readonly name: string;
  readonly kind: string;
  /** From where to where. */ readonly line: string;
  readonly family: 'point' | 'zip' | 'cord';
  readonly written: Written;
  /** What holds where nothing is written: m, kg (a point's two parts) or kg/m, the friction as it is. */ readonly usual: Readonly<
    Record<'size' | 'gap' | 'mass' | 'friction', number>
  >;
  /** Stances in which it is closed. */ readonly closedIn: readonly string[];
}

export interface BoardHardware {
  readonly name: string;
  readonly kind: HardwareKind;
  /** "4 feet of 12 mm" */ readonly said: string;
  readonly panel: string;
  readonly written: Written;
  /** Places drawn for it; `count` may leave some out. */ readonly places: number;
  /** kg, all of its pieces. */ readonly weighs: number;
}

/** What holds the bag's edges and holds it shut, and what of metal is on it. */
export interface BoardTrims {
  readonly members: readonly BoardMember[];
  readonly closures: readonly BoardClosure[];
  readonly hardware: readonly BoardHardware[];
  readonly stances: readonly string[];
  /** How far a foot lifts its panel where nothing is written, m. */ readonly footHeight: number;
  /** Usual size, m, and mass, kg/m, of each kind of member. */ readonly memberKinds: Readonly<
    Record<string, { readonly size: number; readonly lineMass: number }>
  >;
  /** Usual size, m, and mass of a piece, kg, of each kind of hardware. */ readonly hardwareKinds: Readonly<
    Record<string, { readonly size: number; readonly mass: number }>
  >;
  /** The free edges that run on from each free edge, where there is more than it, and their length, m. */ readonly around: Readonly<
    Record<string, { readonly refs: readonly string[]; readonly ring: boolean; readonly length: number }>
  >;
}

const MEMBER_KINDS: readonly Exclude<MemberKind, 'figures'>[] = [
  'cotton cord',
  'paper cord',
  'plastic cord',
  'plastic boning',
  'spiral steel boning',
  'spring wire',
  'webbing binding',
  'coil zip',
  'metal zip',
  'metal frame',
];
const HARDWARE_KINDS: readonly Exclude<HardwareKind, 'other'>[] = ['foot', 'ring', 'rivet', 'stud', 'buckle', 'slider', 'hook', 'clasp', 'corner plate'];

type Form = Readonly<Record<string, unknown>>;
const record = (v: unknown): Form => (v !== null && typeof v === 'object' && !Array.isArray(v) ? (v as Form) : {});
const writtenIn = (form: Form): Written =>
  Object.fromEntries(Object.entries(form).flatMap(([key, v]) => (typeof v === 'string' || typeof v === 'number' ? [[key, String(v)]] : [])));

/** A closure's figures as they hold now; the same as of its kind where nothing is written. */
const usualOf = (c: NonNullable<Bag['closures']>[number]): BoardClosure['usual'] => ({
  size: 'size' in c ? c.size : 0,
  gap: 'gap' in c ? c.gap : 0,
  mass: 'lineMass' in c ? c.lineMass : c.mass,
  friction: 'friction' in c ? c.friction : 0,
});

/** What the table shows of a bag's members, closures and hardware. */
export function trimsOf(document: BagDocument, bag: Bag, draft: Draft): BoardTrims {
  const written = (what: string, name: string): Form => record(record(document.value[what])[name]);
  const lengthOf = (ref: string): number => {
    const [panel, edge] = [ref.slice(0, ref.indexOf('.')), ref.slice(ref.indexOf('.') + 1)];
    return draft.panels.find((p) => p.name === panel)?.edges.find((e) => e.name === edge)?.length ?? 0;
  };
  const none = { size: null, mass: null, height: null, rodRigidity: null, lineMass: null } as const;
  const around = draft.panels.flatMap((p) =>
    p.edges.flatMap((e): [string, BoardTrims['around'][string]][] => {
      const found = e.loop === 0 ? aroundFrom(draft, `${p.name}.${e.name}`) : null;
      return found && found.refs.length > 1
        ? [[`${p.name}.${e.name}`, { refs: found.refs, ring: found.ring, length: found.refs.reduce((sum, r) => sum + lengthOf(r), 0) }]]
        : [];
    }),
  );
  return {
    members: (bag.members ?? []).map((m): BoardMember => {
      const own = memberFigures({ kind: m.kind, size: m.size, rodRigidity: null, lineMass: null });
      const lines = (m.lines ?? []).map((l) => `${l.panel}.${l.line}`);
      const length = m.runs.reduce((sum, r) => sum + (r.to - r.from) * lengthOf(`${r.panel}.${r.edge}`), 0);
      return {
        name: m.name,
        kind: m.kind,
        said: memberWords(m),
        refs: [...new Set([...m.runs.map((r) => `${r.panel}.${r.edge}`), ...lines])],
        written: writtenIn(written('members', m.name)),
        usual: { rigidity: own.rodRigidity[1], stretch: own.stretch[1], mass: own.lineMass, length },
        ring: m.ends === 'ring',
        mass: memberFigures(m).lineMass * length,
      };
    }),
    closures: (bag.closures ?? []).map((c): BoardClosure => {
      const closedIn = bag.stances.filter((s) => Array.isArray(s.closed) && s.closed.includes(c.name)).map((s) => s.name);
      return {
        name: c.name,
        kind: c.kind,
        line: closureLine(c),
        family: 'sides' in c ? 'zip' : 'drawnTo' in c ? 'cord' : 'point',
        written: writtenIn(written('closures', c.name)),
        usual: usualOf(c),
        closedIn,
      };
    }),
    hardware: (bag.hardware ?? []).map((h): BoardHardware => {
      const form = written('hardware', h.name);
      const places = Array.isArray(form.at) ? form.at.length : h.at.length;
      return {
        name: h.name,
        kind: h.kind,
        said: hardwareWords(h),
        panel: h.panel,
        written: writtenIn(form),
        places,
        weighs: hardwareFigures(h).mass * h.at.length,
      };
    }),
    stances: bag.stances.map((s) => s.name),
    footHeight: hardwareFigures({ kind: 'foot', ...none }).height,
    memberKinds: Object.fromEntries(
      MEMBER_KINDS.map((kind) => {
        const { size, lineMass } = memberFigures({ kind, ...none });
        return [kind, { size, lineMass }];
      }),
    ),
    hardwareKinds: Object.fromEntries(
      HARDWARE_KINDS.map((kind) => {
        const { size, mass } = hardwareFigures({ kind, ...none });
        return [kind, { size, mass }];
      }),
    ),
    around: Object.fromEntries(around),
  };
}

/** What of the members will not lie as drawn, as the table lists it. */
export const trimTroubles = (
  bag: Bag,
): {
  readonly text: string;
  readonly fault: boolean;
  readonly panel: string;
  readonly edge: string | null;
  readonly seam: null;
  readonly mends: readonly never[];
}[] => checkMembers(bag).map((f) => ({ text: f.text, fault: false, panel: f.panel, edge: f.edge, seam: null, mends: [] }));
