import type { CircularFront } from "@frontpace/arrival";
import { expect, it } from "vitest";
import { refusedOrigin } from "../../src/following/refused-origin.js";

const circleFound = { origin: [60.31, 50.69] } as unknown as CircularFront;

it("an origin that the arrivals contradict is refused with theirs, one about which they are a circle is not", () => {
  const refused = refusedOrigin({ shape: "none", originContradicted: true, circleFound }, [70, 55]);
  expect(refused?.reason).toBe("origin-contradicted");
  expect(refused?.message).toMatch(
    /\(--origin 70,55\).* about 60.3, 50.7 px, 10.6 px from there.* --origin 60.3,50.7$/,
  );
  expect(refusedOrigin({ shape: "circle", originContradicted: true, circleFound }, [61, 50])).toBeNull();
  expect(refusedOrigin({ shape: "none", originContradicted: false, circleFound }, [70, 55])).toBeNull();
  expect(refusedOrigin({ shape: "none", originContradicted: true, circleFound }, null)).toBeNull();
});
