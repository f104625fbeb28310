/**
 * Line members by kind, from figures of what they are made of. round: E over a full circle of the bulk's diameter; flat: E over width and thickness, bent out of
 * its plane; measured: rigidity and mass at one size, both growing with the size as told. Moduli Pa, low / mid / high; densities kg/m3 of the bulk.
 * Handbook moduli of steel and plastics are from memory; a cord's and a zip's are estimates: their yarns and teeth slide, and no table of them was found.
 */
import type { MemberKind, Three } from '../../bag/types.ts';
import type { Evidence } from '../types.ts';

export interface MemberRow {
  /** m */ readonly size: number;
  readonly section:
    | { readonly shape: 'round'; readonly modulus: Three; readonly density: number }
    | { readonly shape: 'flat'; readonly thickness: number; readonly modulus: Three; readonly density: number }
    | { readonly shape: 'measured'; readonly rodRigidity: Three; readonly lineMass: number /** Rigidity goes with size to this power. */; readonly power: 1 | 3 };
  readonly evidence: Evidence;
  readonly source: string;
}

const STEEL = 7850;

export const MEMBER_ROWS: Readonly<Record<Exclude<MemberKind, 'figures'>, MemberRow>> = {
  'cotton cord': {
    size: 4e-3,
    section: { shape: 'round', modulus: [3e6, 1e7, 4e7], density: 500 },
    evidence: 'estimate',
    source: 'soft twisted filler; yarns slide: a thousandth of cotton’s own 5-12 GPa. Estimate',
  },
  'paper cord': {
    size: 4e-3,
    section: { shape: 'round', modulus: [1e8, 3e8, 9e8], density: 800 },
    evidence: 'estimate',
    source: 'twisted kraft paper, a tenth of the sheet’s 2-6 GPa. Estimate',
  },
  'plastic cord': {
    size: 4e-3,
    section: { shape: 'round', modulus: [2e7, 6e7, 2e8], density: 1200 },
    evidence: 'estimate',
    source: 'solid flexible PVC or polyethylene, 20-200 MPa (handbook range of plasticised PVC and LDPE, from memory)',
  },
  'spring wire': {
    size: 1.5e-3,
    section: { shape: 'round', modulus: [1.95e11, 2.06e11, 2.1e11], density: STEEL },
    evidence: 'published',
    source: 'steel, E 195-210 GPa (handbook, from memory); EI = E pi d^4/64',
  },
  'plastic boning': {
    size: 8e-3,
    section: { shape: 'flat', thickness: 1.2e-3, modulus: [5e8, 1.2e9, 2.5e9], density: 1100 },
    evidence: 'estimate',
    source: 'polyester rods side by side in a woven tape, 1.2 mm thick; polyester 2-3 GPa over half of the section. Estimate',
  },
  'spiral steel boning': {
    size: 6e-3,
    section: { shape: 'measured', rodRigidity: [3e-4, 1e-3, 3e-3], lineMass: 0.02, power: 3 },
    evidence: 'estimate',
    source: 'flattened coil of wire: bends both ways, far softer than its steel. Estimate at 6 mm',
  },
  'webbing binding': {
    size: 2e-2,
    section: { shape: 'flat', thickness: 1e-3, modulus: [5e6, 2e7, 8e7], density: 600 },
    evidence: 'estimate',
    source: 'woven tape of 1 mm, bending as webbing does. Estimate',
  },
  'coil zip': {
    size: 5e-3,
    section: { shape: 'measured', rodRigidity: [3e-5, 1e-4, 3e-4], lineMass: 0.018, power: 3 },
    evidence: 'estimate',
    source: 'closed coil chain with both tapes at 5 mm. Estimate',
  },
  'metal zip': {
    size: 5e-3,
    section: { shape: 'measured', rodRigidity: [5e-5, 2e-4, 8e-4], lineMass: 0.04, power: 3 },
    evidence: 'estimate',
    source: 'closed metal teeth with both tapes at 5 mm; teeth hinge on one another. Estimate',
  },
  'metal frame': {
    size: 1e-2,
    section: { shape: 'flat', thickness: 1.2e-3, modulus: [1.95e11, 2.06e11, 2.1e11], density: STEEL },
    evidence: 'published',
    source: 'steel strip of 1.2 mm, E 195-210 GPa (handbook, from memory); EI = E b t^3/12',
  },
};
