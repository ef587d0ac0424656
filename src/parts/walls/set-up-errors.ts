/**
 * How far a set-up may be off from what was meant. Lengths mm, angles degrees; 0 is as meant. Signs: the recess lies
 * farther along +y, higher, turned about the axis from the crown towards +y (90°), its second end lower; the blank's
 * radius and the bit's diameter larger.
 */
export interface SetUpErrors {
  readonly zeroY: number;
  readonly zeroZ: number;
  readonly angleDeg: number;
  readonly tiltDeg: number;
  readonly radius: number;
  readonly bit: number;
}

/** All as meant. */
export const AS_MEANT: SetUpErrors = { zeroY: 0, zeroZ: 0, angleDeg: 0, tiltDeg: 0, radius: 0, bit: 0 };

/** A rigid move of the recess against the blank, in axis coordinates, written into three numbers. */
export interface RecessMove {
  /** From where the recess was meant to where it is. */
  there(x: number, u: number, v: number, out: Float64Array): void;
  /** From where it is to where it was meant. */
  back(x: number, u: number, v: number, out: Float64Array): void;
}

/** The move that errors make: the tilt about the recess's middle `x`, then the turn about the axis, then the shift. */
export function moveOf(e: SetUpErrors, middle: number): RecessMove {
  const rad = Math.PI / 180;
  const [ca, sa] = [Math.cos(e.angleDeg * rad), Math.sin(e.angleDeg * rad)];
  const [ct, st] = [Math.cos(e.tiltDeg * rad), Math.sin(e.tiltDeg * rad)];
  if (e.angleDeg === 0 && e.tiltDeg === 0) {
    return {
      there: (x, u, v, out) => {
        out[0] = x;
        out[1] = u + e.zeroY;
        out[2] = v + e.zeroZ;
      },
      back: (x, u, v, out) => {
        out[0] = x;
        out[1] = u - e.zeroY;
        out[2] = v - e.zeroZ;
      },
    };
  }
  return {
    there: (x, u, v, out) => {
      const dx = x - middle;
      const h = v * ct - dx * st;
      out[0] = middle + dx * ct + v * st;
      out[1] = u * ca + h * sa + e.zeroY;
      out[2] = h * ca - u * sa + e.zeroZ;
    },
    back: (x, u, v, out) => {
      const p = u - e.zeroY;
      const q = v - e.zeroZ;
      const h = q * ca + p * sa;
      const dx = x - middle;
      out[0] = middle + dx * ct - h * st;
      out[1] = p * ca - q * sa;
      out[2] = h * ct + dx * st;
    },
  };
}
