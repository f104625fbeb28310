/** This program's version, as package.json has it (a test compares them): every result says which one made it. */
export const VERSION = '0.2.0';
