/** Which files are taken for tables of points where files are looked for; what a campaign names may be called anything. */

/** In small letters; names may end in large ones. */
export const tableEndings = ['csv', 'tsv', 'txt', 'dat'] as const;

const pattern = new RegExp(`\\.(?:${tableEndings.join('|')})$`, 'i');

export const isTableName = (name: string): boolean => pattern.test(name);
