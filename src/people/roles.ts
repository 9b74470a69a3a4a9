/** The four people a job has. One person may hold different roles in different projects. */
export const roles = ['contractor', 'engineer', 'inspector', 'owner'] as const;
export type Role = (typeof roles)[number];
