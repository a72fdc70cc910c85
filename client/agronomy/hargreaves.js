// @ts-check
/**
 * Reference evapotranspiration from a minimum-maximum thermometer and the latitude.
 * Twin of server/shedbook/agronomy/hargreaves.py, which names the sources.
 */
import { PI, acos, cos, sin } from "./elementary.js";
import { OutOfRange } from "./errors.js";

const SOLAR_CONSTANT_MJ_PER_MIN = 0.082;
const MM_PER_MJ = 0.408;
const LARGEST_LATITUDE_DEG = 65;

/**
 * How far the earth turns between noon and sunset, in radians.
 * @param {number} latitudeDeg -65 to 65 @param {number} dayOfYear 1 to 366
 */
export function sunsetHourAngle(latitudeDeg, dayOfYear) {
  const latitude = radians(latitudeDeg);
  const declination = solarDeclination(dayOfYear);
  return acos((-sin(latitude) * sin(declination)) / (cos(latitude) * cos(declination)));
}

/** How far north of the equator the sun stands overhead, in radians. @param {number} dayOfYear */
export function solarDeclination(dayOfYear) {
  return 0.409 * sin(yearAngle(dayOfYear) - 1.39);
}

/** The inverse square of the distance to the sun against its mean. @param {number} dayOfYear */
export function relativeDistance(dayOfYear) {
  return 1 + 0.033 * cos(yearAngle(dayOfYear));
}

/**
 * Solar radiation above the atmosphere over one day, MJ a square metre.
 * @param {number} latitudeDeg -65 to 65 @param {number} dayOfYear 1 to 366
 */
export function extraterrestrialRadiation(latitudeDeg, dayOfYear) {
  const latitude = radians(latitudeDeg);
  const declination = solarDeclination(dayOfYear);
  const sunset = sunsetHourAngle(latitudeDeg, dayOfYear);
  const height =
    sunset * sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * sin(sunset);
  const perDay = ((24 * 60) / PI) * SOLAR_CONSTANT_MJ_PER_MIN;
  return perDay * relativeDistance(dayOfYear) * height;
}

/**
 * Water that a reference grass gives off in a day, mm, from its temperatures alone.
 * @param {number} lowC -60 to 60 @param {number} highC lowC to 60 @param {number} radiationMj
 */
export function hargreavesEt0(lowC, highC, radiationMj) {
  if (!(lowC >= -60 && lowC <= 60)) throw new OutOfRange("low_c", lowC, "between -60 and 60");
  if (!(lowC <= highC && highC <= 60)) {
    throw new OutOfRange("high_c", highC, "between low_c and 60");
  }
  if (!(radiationMj >= 0 && radiationMj <= 60)) {
    throw new OutOfRange("radiation_mj", radiationMj, "between 0 and 60");
  }
  const warmth = (lowC + highC) / 2 + 17.8;
  if (warmth <= 0) return 0;
  return 0.0023 * warmth * Math.sqrt(highC - lowC) * MM_PER_MJ * radiationMj;
}

/** @param {number} latitudeDeg */
function radians(latitudeDeg) {
  if (!(latitudeDeg >= -LARGEST_LATITUDE_DEG && latitudeDeg <= LARGEST_LATITUDE_DEG)) {
    throw new OutOfRange("latitude_deg", latitudeDeg, "between -65 and 65");
  }
  return (latitudeDeg * PI) / 180;
}

/** @param {number} dayOfYear */
function yearAngle(dayOfYear) {
  if (!(dayOfYear >= 1 && dayOfYear <= 366)) {
    throw new OutOfRange("day_of_year", dayOfYear, "between 1 and 366");
  }
  return ((2 * PI) / 365) * dayOfYear;
}
