package lumbrical.reconcile;

import lumbrical.scoring.Response;

/**
 * A filled cell.
 *
 * @param text what was entered, in one form
 * @param response the response; not answered for a column of the sitting
 */
record Entry(String text, Response response) {}
