/** What a picture's file says of itself before any pixel is unpacked. */
export interface PictureHeader {
  readonly width: number;
  readonly height: number;
  /** Bits a pixel as stored, all channels. */
  readonly bitsPerPixel: number;
  readonly interlaced: boolean;
  /** How often the pixels are gone through in decoding. */
  readonly scans: number;
  /** How to turn the picture for showing, 1 to 8; 1 is upright as stored. Source: EXIF 2.3, tag 0x0112 (from memory). */
  readonly turned: number;
}

/** Why a header is of no use. */
export interface HeaderTrouble {
  readonly trouble:
    | "cut short"
    | "damaged"
    | "arithmetic coding"
    | "lossless coding"
    | "printing colours"
    | "deep colours";
}
