/**
 * The last moment at which daily letters went, at or before `now`: every day at `hour` by the server's clock. What was
 * written before it is due.
 */
export function lastDailyMoment(now: Date, hour: number): Date {
  const moment = new Date(now);
  moment.setHours(hour, 0, 0, 0);
  if (moment > now) moment.setDate(moment.getDate() - 1);
  return moment;
}
