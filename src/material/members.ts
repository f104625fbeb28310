/** Figures of a line member: how stiff it is and what it weighs. */
import type { Member, Three } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { MEMBER_ROWS } from './data/member-kinds.ts';
import type { Evidence } from './types.ts';

export interface MemberFigures {
  /** EI low / mid / high, N*m2. */ readonly rodRigidity: Three;
  /** kg/m */ readonly lineMass: number;
  /** Diameter or width, m. */ readonly size: number;
  readonly evidence: Evidence;
  readonly source: string;
}

/**
 * Bending rigidity and mass per length of a member. Round: EI = E pi d^4/64; flat: EI = E b t^3/12, out of its plane; of coils and zips an estimate at one size,
 * the rigidity with the cube of the size (all of it grows alike across), the mass with its square. What the file states goes before.
 */
export function memberFigures(m: Pick<Member, 'kind' | 'size' | 'rodRigidity' | 'lineMass'>): MemberFigures {
  const stated = m.rodRigidity === null ? null : ([m.rodRigidity, m.rodRigidity, m.rodRigidity] as const);
  if (m.kind === 'figures')
    return { rodRigidity: stated ?? [0, 0, 0], lineMass: m.lineMass ?? 0, size: m.size ?? 0, evidence: 'stated', source: 'stated in the file' };
  const row = MEMBER_ROWS[m.kind];
  const size = m.size ?? row.size;
  const { rodRigidity, lineMass } = ofSection(row.section, size, row.size);
  return {
    rodRigidity: stated ?? rodRigidity,
    lineMass: m.lineMass ?? lineMass,
    size,
    evidence: stated ? 'stated' : row.evidence,
    source: stated ? 'stated in the file' : row.source,
  };
}

function ofSection(section: (typeof MEMBER_ROWS)['coil zip']['section'], size: number, usual: number): { rodRigidity: Three; lineMass: number } {
  const times = (three: Three, by: number): Three => three.map((v) => v * by) as unknown as Three;
  switch (section.shape) {
    case 'round': {
      const square = size * size;
      return { rodRigidity: times(section.modulus, (Math.PI * square * square) / 64), lineMass: (section.density * Math.PI * square) / 4 };
    }
    case 'flat':
      return { rodRigidity: times(section.modulus, (size * libm.cube(section.thickness)) / 12), lineMass: section.density * size * section.thickness };
    case 'measured': {
      const by = size / usual;
      return { rodRigidity: times(section.rodRigidity, section.power === 3 ? libm.cube(by) : by), lineMass: section.lineMass * by * by };
    }
  }
}
