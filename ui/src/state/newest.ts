/**
 * Questions asked again before they were answered: only the newest may answer.
 * Each call starts one and gives what says, later, whether it still is the newest.
 */
export function newest(): () => () => boolean {
  let last = 0;
  return () => {
    const mine = ++last;
    return () => mine === last;
  };
}
