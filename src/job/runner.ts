/** True for a groove whose name says that a runner sits in it: the wall that carries has no default then. */
export function needsBearingWall(grooveName: string): boolean {
  return /\brunners?\b/i.test(grooveName);
}
