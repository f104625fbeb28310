/** Figures of a line member: how stiff it is and what it weighs. */
import type { Member, Three } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { formatMm } from '../units/index.ts';
import { MEMBER_ROWS } from './data/member-kinds.ts';
import type { Evidence } from './types.ts';

export interface MemberFigures {
  /** EI low / mid / high, N*m2. */ readonly rodRigidity: Three;
  /** EA low / mid / high, N. */ readonly stretch: Three;
  /** kg/m */ readonly lineMass: number;
  /** Diameter or width, m. */ readonly size: number;
  readonly evidence: Evidence;
  readonly source: string;
}

/**
 * Bending rigidity and mass per length of a member. Round: EI = E pi d^4/64; flat: EI = E b t^3/12, out of its plane; of coils and zips an estimate at one size,
 * the rigidity with the cube of the size (all of it grows alike across), the mass with its square. What the file states goes before.
 * Stretch: E times the section; where only a rigidity is known that of a round rod of its size, 16 EI/d^2, which is too little for a zip's tapes: the cloth along it is stiffer.
 */
export function memberFigures(m: Pick<Member, 'kind' | 'size' | 'rodRigidity' | 'lineMass' | 'stretch'>): MemberFigures {
  const stated = m.rodRigidity === null ? null : ([m.rodRigidity, m.rodRigidity, m.rodRigidity] as const);
  const pulled = typeof m.stretch === 'number' ? ([m.stretch, m.stretch, m.stretch] as const) : null;
  if (m.kind === 'figures') {
    const rodRigidity = stated ?? [0, 0, 0],
      size = m.size ?? 0;
    return { rodRigidity, stretch: pulled ?? likeRound(rodRigidity, size), lineMass: m.lineMass ?? 0, size, evidence: 'stated', source: 'stated in the file' };
  }
  const row = MEMBER_ROWS[m.kind];
  const size = m.size ?? row.size;
  const { rodRigidity, stretch, lineMass } = ofSection(row.section, size, row.size);
  return {
    rodRigidity: stated ?? rodRigidity,
    stretch: pulled ?? stretch,
    lineMass: m.lineMass ?? lineMass,
    size,
    evidence: stated ? 'stated' : row.evidence,
    source: stated ? 'stated in the file' : row.source,
  };
}

/** "paper cord of 5 mm"; of one whose figures are stated "member of 5 mm". */
export const memberWords = (m: Parameters<typeof memberFigures>[0]): string =>
  `${m.kind === 'figures' ? 'member' : m.kind} of ${formatMm(memberFigures(m).size)}`;

const times = (three: Three, by: number): Three => three.map((v) => v * by) as unknown as Three;
/** EA of a round rod of that rigidity and diameter. */
const likeRound = (rodRigidity: Three, size: number): Three => times(rodRigidity, size > 0 ? 16 / (size * size) : 0);

function ofSection(
  section: (typeof MEMBER_ROWS)['coil zip']['section'],
  size: number,
  usual: number,
): Pick<MemberFigures, 'rodRigidity' | 'stretch' | 'lineMass'> {
  switch (section.shape) {
    case 'round': {
      const square = size * size;
      return {
        rodRigidity: times(section.modulus, (Math.PI * square * square) / 64),
        stretch: times(section.modulus, (Math.PI * square) / 4),
        lineMass: (section.density * Math.PI * square) / 4,
      };
    }
    case 'flat':
      return {
        rodRigidity: times(section.modulus, (size * libm.cube(section.thickness)) / 12),
        stretch: times(section.modulus, size * section.thickness),
        lineMass: section.density * size * section.thickness,
      };
    case 'measured': {
      const by = size / usual,
        rodRigidity = times(section.rodRigidity, section.power === 3 ? libm.cube(by) : by);
      return { rodRigidity, stretch: likeRound(rodRigidity, size), lineMass: section.lineMass * by * by };
    }
  }
}
