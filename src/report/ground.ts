import type { Ground } from '../bag/types.ts';
import { formatAngle } from '../units/index.ts';

/** What a bag stands on, in words; empty for a plain level table. */
export function groundWords(ground: Ground | null): string {
  if (ground === null) return '';
  const { on, tilt, toward, base, forms } = ground;
  const parts: string[] = [];
  if (tilt > 0) parts.push(`${on === 'table' ? 'on a table ' : ''}tilted ${formatAngle(tilt)} toward the ${toward} (drawn and measured as if level)`);
  if (base !== 'free') parts.push(`its base ${base} down`);
  if (forms.length > 0) parts.push(`with ${forms.map((f) => `a ${f.form}`).join(', ')}`);
  return parts.join(', ');
}
