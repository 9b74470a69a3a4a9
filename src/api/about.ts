/** The ids that an event's payload names, and nothing else of it: words between people stay where they were said. */
export function idsOf(payload: unknown): Record<string, string> {
  return Object.fromEntries(
    Object.entries(payload as Record<string, unknown>).flatMap(([name, value]) =>
      name.endsWith('Id') && typeof value === 'string' ? [[name, value]] : [],
    ),
  );
}
