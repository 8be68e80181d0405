import { effectiveDegreesOfFreedom, fitPolynomial, studentFactor } from "@frontpace/fit";
import { describe, expect, it } from "vitest";
import { expectPrinted, expectRelative } from "../packages/fit/test/support/expect-close.js";
import studentTable from "./published/gum-g2-student-t.json" with { type: "json" };
import thermometer from "./published/gum-h3-thermometer.json" with { type: "json" };
import welchSatterthwaite from "./published/gum-welch-satterthwaite.json" with { type: "json" };
import straightLines from "./published/iso-ts-28037-straight-line.json" with { type: "json" };
import noInt1 from "./published/nist-strd-noint1.json" with { type: "json" };
import noInt2 from "./published/nist-strd-noint2.json" with { type: "json" };
import norris from "./published/nist-strd-norris.json" with { type: "json" };
import pontius from "./published/nist-strd-pontius.json" with { type: "json" };

/** The certified values carry 15 digits; 9 are asked for, and a factorisation in doubles leaves 12 and more. */
const CERTIFIED = 1e-11;
/** Exact rational arithmetic, given to 18 digits and more: what is left is the rounding of the fit. */
const EXACT = 1e-12;

// NIST/ITL Statistical Reference Datasets, linear least squares.
describe("fitPolynomial reproduces NIST StRD to 1e-11, estimates and standard deviations:", () => {
  it.each([
    ["Norris", norris, 1],
    ["Pontius", pontius, 2],
    ["NoInt1", noInt1, 1],
    ["NoInt2", noInt2, 1],
  ] as const)("%s", (_, { data, certified, intercept, dof }, degree) => {
    const fit = fitPolynomial(data.x, data.y, degree, { throughOrigin: !intercept });
    const estimates: Record<string, number> = certified.estimates;
    const deviations: Record<string, number> = certified.standardDeviations;
    expect(Object.keys(estimates)).toHaveLength(intercept ? degree + 1 : degree);
    for (const name of Object.keys(estimates)) {
      const power = Number(name.slice(1));
      expectRelative(fit.coefficients[power], estimates[name], CERTIFIED);
      expectRelative(Math.sqrt(fit.covariance[power][power]), deviations[name], CERTIFIED);
    }
    expectRelative(fit.residualStandardDeviation, certified.residualStandardDeviation, CERTIFIED);
    expectRelative(fit.chiSquared, certified.anova.residualSS, CERTIFIED);
    expect(fit.degreesOfFreedom).toBe(dof);
  });
});

// JCGM 100:2008, H.3: b(t) = y1 + y2 (t − 20 °C).
describe("fitPolynomial on the thermometer of JCGM 100:2008, H.3", () => {
  const { data, t0, published, crossCheck } = thermometer;
  const { coefficients, covariance, residualStandardDeviation, degreesOfFreedom } = fitPolynomial(
    data.t.map((t) => t - t0),
    data.b,
    1,
  );
  const [u1, u2] = [0, 1].map((k) => Math.sqrt(covariance[k][k]));
  const at30 = 30 - t0;
  const uncertaintyAt30 = (correlated: number) =>
    Math.sqrt(covariance[0][0] + at30 ** 2 * covariance[1][1] + 2 * correlated * at30 * covariance[0][1]);

  it("gives y1, u(y1), y2, u(y2), r and s to the printed digits", () => {
    expectPrinted(coefficients[0], published.y1, 4);
    expectPrinted(u1, published.u_y1, 4);
    expectPrinted(coefficients[1], published.y2, 5);
    expectPrinted(u2, published.u_y2, 5);
    expectPrinted(covariance[0][1] / (u1 * u2), published.r_y1_y2, 2);
    expectPrinted(residualStandardDeviation, published.s, 4);
    expect(degreesOfFreedom).toBe(published.nu);
  });

  it("gives them as exact arithmetic does, to 1e-12", () => {
    expectRelative(coefficients[0], Number(crossCheck.y1), EXACT);
    expectRelative(u1, Number(crossCheck.u_y1), EXACT);
    expectRelative(coefficients[1], Number(crossCheck.y2), EXACT);
    expectRelative(u2, Number(crossCheck.u_y2), EXACT);
    expectRelative(covariance[0][1] / (u1 * u2), Number(crossCheck.r_y1_y2), EXACT);
    expectRelative(residualStandardDeviation, Number(crossCheck.s), EXACT);
  });

  it("gives b(30 °C) and, with the covariance, u(b(30 °C)) = 0.0041 °C", () => {
    expectPrinted(coefficients[0] + at30 * coefficients[1], published.b30, 4);
    expectPrinted(uncertaintyAt30(1), published.u_b30, 4);
    expectRelative(uncertaintyAt30(1), Number(crossCheck.u_b30), EXACT);
  });

  it("without the covariance u(b(30 °C)) would be 0.0073 °C", () => {
    expectPrinted(uncertaintyAt30(0), 0.0073, 4);
  });
});

// ISO/TS 28037:2010. The example with uncertainty in x too is left out: fitPolynomial takes x, the frame number, as
// exact, and an errors-in-variables line is another estimator.
describe("fitPolynomial reproduces the straight lines of ISO/TS 28037 to the printed digits:", () => {
  const example = (id: string) => straightLines.examples.find((one) => one.id === id)!;

  it.each(["equal weights", "unequal weights"])("%s, with covariance and chi-squared", (id) => {
    const { x, y, uy, published, exact } = example(id);
    const fit = fitPolynomial(x, y, 1, { standardUncertainty: uy });
    const { coefficients, covariance, chiSquared, degreesOfFreedom } = fit;
    const found: [number, number, string | undefined][] = [
      [coefficients[0], published.a, exact.a],
      [Math.sqrt(covariance[0][0]), published.ua, exact.ua],
      [coefficients[1], published.b, exact.b],
      [Math.sqrt(covariance[1][1]), published.ub, exact.ub],
      [covariance[0][1], published.cov, exact.cov],
      [chiSquared, published.chi2!, exact.chi2],
    ];
    for (const [value, printed, digits] of found) {
      expectPrinted(value, printed, 3);
      expectRelative(value, Number(digits), EXACT);
    }
    expect(degreesOfFreedom).toBe(published.dof);
  });

  it("unknown common scale, where the 0.171 printed as chi-squared is the residual standard deviation", () => {
    const { x, y, published, exact } = example("unknown common scale");
    const { coefficients, covariance, chiSquared, residualStandardDeviation } = fitPolynomial(x, y, 1);
    expectPrinted(coefficients[0], published.a, 3);
    expectPrinted(Math.sqrt(covariance[0][0]), published.ua, 3);
    expectPrinted(coefficients[1], published.b, 3);
    expectPrinted(Math.sqrt(covariance[1][1]), published.ub, 3);
    expectPrinted(covariance[0][1], published.cov, 3);
    expectPrinted(residualStandardDeviation, published.statedAsChi2!, 3);
    expectRelative(residualStandardDeviation, Number(exact.s), EXACT);
    expectRelative(chiSquared, Number(exact.rss), EXACT);
  });
});

// JCGM 100:2008, G.4.1 and H.1.
describe("effectiveDegreesOfFreedom reproduces", () => {
  it("JCGM 100:2008, G.4.1: 19.0, t 2.09 and U 2.2 %", () => {
    const { relU, nu, published } = welchSatterthwaite.exampleG41;
    const effective = effectiveDegreesOfFreedom(relU, nu);
    const combined = Math.hypot(...relU);
    expectPrinted(effective, published.nuEff, 1);
    expectPrinted(combined, published.ucPercent, 2);
    expectPrinted(studentFactor(effective), published.t95, 2);
    expectPrinted(studentFactor(effective) * combined, published.U95Percent, 1);
  });

  const { components, dComponents, published, computed } = welchSatterthwaite.exampleH1;

  it("JCGM 100:2008, H.1: 16.76, which the guide cuts to 16, and t 2.92", () => {
    const effective = effectiveDegreesOfFreedom(
      components.map(({ u }) => u),
      components.map(({ nu }) => nu),
    );
    const combined = Math.hypot(...components.map(({ u }) => u));
    expect(Math.floor(effective)).toBe(published.nuEff);
    expectPrinted(effective, Number(computed.nuEff), 5);
    expectPrinted(combined, published.uc, 0);
    expectPrinted(studentFactor(published.nuEff, 0.99), published.t99, 2);
    // the printed 93 nm is the product of the printed factors
    expectPrinted(studentFactor(published.nuEff, 0.99) * published.uc, published.U99, 0);
  });

  it("the 25.6 of the comparator in H.1 to the rounding of its printed 9.7 nm", () => {
    const effective = effectiveDegreesOfFreedom(
      dComponents.map(({ u }) => u),
      dComponents.map(({ nu }) => nu),
    );
    const { u, nu } = components.find(({ name }) => name === "d")!;
    const combined = Math.hypot(...dComponents.map((one) => one.u));
    expectPrinted(combined, u, 1);
    expectPrinted(effective * (u / combined) ** 4, nu, 1);
  });
});

// JCGM 100:2008, Table G.2, read as NIST Technical Note 1297, Table B.1.
describe("studentFactor reproduces JCGM 100:2008, Table G.2", () => {
  /** Shares of a normal distribution within 1, 2 and 3 standard deviations, of which the heads of three columns are
   *  the roundings. */
  const exactShare: Record<string, number> = {
    "68.27": 0.6826894921370859,
    "95.45": 0.9544997361036416,
    "99.73": 0.9973002039367398,
  };
  const { fractionPercent, rows, infinity, crossCheck } = studentTable;
  const shares = fractionPercent.map((percent) => exactShare[percent] ?? Number(percent) / 100);
  const [exception] = crossCheck.entriesNotRoundingFromExact;

  it("in exact values, given to eight decimals, to 1e-7", () => {
    for (const { nu, exact } of rows)
      shares.forEach((share, k) => {
        expectRelative(studentFactor(nu, share), exact[k], 1e-7);
      });
  });

  it("in the printed digits, but for the 1.70 at 35 degrees of freedom and 90 %, which is 1.690", () => {
    const off: string[] = [];
    for (const { nu, t } of rows)
      shares.forEach((share, k) => {
        const half = nu === 100 ? 0.0005 : 0.005;
        if (!(Math.abs(studentFactor(nu, share) - t[k]) <= half)) off.push(`${nu} ${fractionPercent[k]}`);
      });
    expect(off).toEqual([`${exception.nu} ${exception.p}`]);
    expectPrinted(studentFactor(exception.nu, 0.9), 1.69, 2);
  });

  it("for infinite degrees of freedom, to three decimals", () => {
    infinity.forEach((printed, k) => {
      expectPrinted(studentFactor(Number.POSITIVE_INFINITY, shares[k]), printed, 3);
    });
  });
});
