/** Said beside every result, unless the reader asks for quiet. */
export const caution =
  "Not for legal or safety certification: check the pictures before you rely on the number.";
