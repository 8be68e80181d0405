import { fitLinear, fitPolynomial } from "@frontpace/fit";
import { describe, expect, it } from "vitest";
import { expectRelative } from "../packages/fit/test/support/expect-close.js";
import filip from "./published/nist-strd-filip.json" with { type: "json" };
import float64 from "./published/nist-strd-float64-behaviour.json" with { type: "json" };
import longley from "./published/nist-strd-longley.json" with { type: "json" };
import wampler1 from "./published/nist-strd-wampler1.json" with { type: "json" };
import wampler2 from "./published/nist-strd-wampler2.json" with { type: "json" };
import wampler3 from "./published/nist-strd-wampler3.json" with { type: "json" };
import wampler4 from "./published/nist-strd-wampler4.json" with { type: "json" };
import wampler5 from "./published/nist-strd-wampler5.json" with { type: "json" };

type Certified = Readonly<Record<string, number>>;
const estimatesOf = ({ certified }: { certified: { estimates: Certified } }) =>
  Object.values(certified.estimates);
const deviationsOf = ({ certified }: { certified: { standardDeviations: Certified } }) =>
  Object.values(certified.standardDeviations);

/** Nine digits. */
const NINE = 1e-9;

// NIST/ITL Statistical Reference Datasets, linear least squares, of average and higher difficulty.
describe("fitPolynomial reproduces NIST StRD", () => {
  const fitOf = ({ data, p }: { data: { x: number[]; y: number[] }; p: number }) => {
    const { coefficients, covariance } = fitPolynomial(data.x, data.y, p - 1);
    return { coefficients, deviations: covariance.map((row, k) => Math.sqrt(row[k])) };
  };

  it("Filip, degree 10, to 11 digits, estimates and standard deviations", () => {
    const { coefficients, deviations } = fitOf(filip);
    expect(coefficients).toHaveLength(11);
    estimatesOf(filip).forEach((value, k) => {
      expectRelative(coefficients[k], value, 1e-11);
    });
    deviationsOf(filip).forEach((value, k) => {
      expectRelative(deviations[k], value, 1e-11);
    });
  });

  it.each([
    ["Wampler1", wampler1],
    ["Wampler2", wampler2],
  ] as const)("%s, an exact polynomial, to nine digits: standard deviations of zero", (_, set) => {
    const { coefficients, deviations } = fitOf(set);
    const estimates = estimatesOf(set);
    expect(estimates).toHaveLength(6);
    estimates.forEach((value, k) => {
      expectRelative(coefficients[k], value, NINE);
      expect(deviationsOf(set)[k]).toBe(0);
      expect(deviations[k]).toBeLessThan(NINE * value);
    });
  });

  // Residuals up to 1e5 times the coefficients: the rounding of y alone leaves 5e-8 of Wampler5's, which is what the same
  // method reaches elsewhere (nist-strd-float64-behaviour.json, QR_centred_scaled).
  it.each([
    ["Wampler3 to nine digits", wampler3, NINE],
    ["Wampler4 to what doubles allow, 1e-8", wampler4, 1e-8],
    [
      "Wampler5 to twice what that leaves elsewhere",
      wampler5,
      2 * float64.results.wampler5.QR_centred_scaled,
    ],
  ] as const)("%s, standard deviations to nine digits", (_, set, tolerance) => {
    const { coefficients, deviations } = fitOf(set);
    estimatesOf(set).forEach((value, k) => {
      expectRelative(coefficients[k], value, tolerance);
    });
    deviationsOf(set).forEach((value, k) => {
      expectRelative(deviations[k], value, NINE);
    });
  });
});

describe("fitLinear reproduces NIST StRD", () => {
  it("Longley, six regressors, to nine digits, estimates and standard deviations", () => {
    const { y, ...columns } = longley.data;
    const { coefficients, covariance, residualStandardDeviation, degreesOfFreedom } = fitLinear(
      Object.values(columns),
      y,
    );
    expect(coefficients).toHaveLength(7);
    estimatesOf(longley).forEach((value, k) => {
      expectRelative(coefficients[k], value, NINE);
    });
    deviationsOf(longley).forEach((value, k) => {
      expectRelative(Math.sqrt(covariance[k][k]), value, NINE);
    });
    expectRelative(residualStandardDeviation, longley.certified.residualStandardDeviation, NINE);
    expect(degreesOfFreedom).toBe(longley.dof);
  });
});
