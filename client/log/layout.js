// @ts-check
/** How plants stand in a bed: rows along its length; the twin of server/shedbook/log/layout.py. */

/**
 * The plants of a full row; the last row may hold fewer.
 * @param {number} count @param {number} rows
 */
export function plantsPerRow(count, rows) {
  return Math.floor((count + rows - 1) / rows);
}

/**
 * The row, from 1, that a plant stands in.
 * @param {number} plant @param {number} count @param {number} rows
 */
export function rowOf(plant, count, rows) {
  return Math.floor((plant - 1) / plantsPerRow(count, rows)) + 1;
}

/**
 * The plants of a row, from 1.
 * @param {number} row @param {number} count @param {number} rows
 */
export function plantsOfRow(row, count, rows) {
  const perRow = plantsPerRow(count, rows);
  const last = row * perRow;
  const plants = [];
  for (let plant = (row - 1) * perRow + 1; plant <= last && plant <= count; plant += 1) {
    plants.push(plant);
  }
  return plants;
}

/**
 * Metres along and across the bed, rows centred; unknown sizes follow from the others.
 * @param {number} plant
 * @param {{plants?: number, rows?: number, in_row_m?: number, between_rows_m?: number}} planting
 * @param {{length_m?: number, width_m?: number}} bed
 * @returns {[number, number]}
 */
export function positionOf(plant, planting, bed) {
  const count = planting.plants ?? plant;
  const rows = planting.rows ?? 1;
  const perRow = plantsPerRow(count, rows);
  const row = rowOf(plant, count, rows);
  const place = plant - (row - 1) * perRow;
  const xM = along(place, perRow, planting.in_row_m, bed.length_m);
  const yM = along(row, rows, planting.between_rows_m, bed.width_m);
  return [xM, yM];
}

/**
 * Where one of so many places lies; spread evenly when the spacing is unknown or too wide.
 * @param {number} place @param {number} places
 * @param {number | undefined} spacingM @param {number | undefined} roomM
 */
function along(place, places, spacingM, roomM) {
  if (roomM === undefined) roomM = places * (spacingM === undefined ? 1 : spacingM);
  if (spacingM === undefined || (places - 1) * spacingM > roomM) spacingM = roomM / places;
  return (roomM - (places - 1) * spacingM) / 2 + (place - 1) * spacingM;
}
