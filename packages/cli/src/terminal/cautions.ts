/** What filming something that breaks, bursts, sparks or burns asks for, once the camera is set up. */
export const cautions: readonly string[] = [
  "Fragments fly: eye protection for everybody, a screen before the camera and one before the people.",
  "Nobody in line of sight of the event when the trigger is armed.",
  "Toughened glass can burst late: wait before anybody comes near, and count the pieces that should be whole.",
  "Loud events harm hearing: protect the ears.",
  "Lamps are hot and bright, sparks and arcs give ultraviolet: screen them, and look at the monitor, not at the light.",
  "Lasers: closed beam, or eyewear for their wavelength.",
  "Stored high voltage: a capacitor kills after the supply is off. Discharge and short it before anybody touches anything.",
  "Hot tiles and scalding water: gloves, face shield, dry floor.",
  "Explosives by licensed people only.",
  "Local codes and the laboratory's own rules come first.",
];

/** The cautions as lines for a person. */
export function describeCautions(): string[] {
  return ["cautions:", ...cautions.map((caution) => `  ${caution}`)];
}
