/** Standard acceleration of free fall, m/s2. Source: ISO 80000-3. */
export const GRAVITY = 9.80665;
