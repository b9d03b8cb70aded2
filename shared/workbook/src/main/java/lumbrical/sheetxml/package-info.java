/**
 * The fast path of workbooks: rows of long sheets as XML, without an object for each row and cell, packed block by block. A second
 * thread packs, and makes the cells of rows ahead. Sheets are set up, and charts are made, by the workbook library, as is the first note of
 * a sheet; only what stands between {@code <sheetData>} and its end, and the further notes, are written here. Start at
 * {@link lumbrical.sheetxml.PackedWorkbook}.
 */
@NullMarked
package lumbrical.sheetxml;

import org.jspecify.annotations.NullMarked;
