/** Parts that several schemas are made of. */
import * as z from "zod";

export const finite = z.number();
export const positive = z.number().positive();
export const notNegative = z.number().min(0);
export const whole = z.number().int();
export const point = z.tuple([finite, finite]);
export const polarity = z.enum(["bright", "dark"]);
