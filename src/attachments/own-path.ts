/** Leads back to where a form was, inside this project and nowhere else. */
export function ownPath(projectId: string, back: string | undefined): string {
  const base = `/projects/${projectId}`;
  return back !== undefined && back.startsWith(`${base}/`) && /^[\x21-\x7e]{1,500}$/.test(back) ? back : base;
}
