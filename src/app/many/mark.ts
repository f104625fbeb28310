/** The mark by which a sweep's table is told from a bag file. */
export const isTable = (text: string): boolean => text.includes('"slumpline sweep table"');
