/** The tilt of a front against its path, as it is in a plane seen obliquely.
 *  @param degrees  in the picture
 *  @param sides  lengths in the plane of one pixel along the path and of one to its right, and the cosine of the angle
 *    between them
 *  @returns degrees, positive where the front lies further along the path on its right-hand side */
export function tiltInPlane(degrees: number, sides: PlaneSides): number {
  const slope = Math.tan((degrees * Math.PI) / 180);
  const { along, across, cosine } = sides;
  const sine = Math.sqrt(1 - cosine * cosine);
  const ahead = slope * along + across * cosine;
  return (Math.atan2(ahead, across * sine) * 180) / Math.PI;
}

export interface PlaneSides {
  /** m */
  readonly along: number;
  readonly across: number;
  readonly cosine: number;
}
