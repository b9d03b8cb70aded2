package lumbrical.reconcile;

/**
 * A filled cell.
 *
 * @param text what was entered, in one form
 * @param response the response; not a number for a column of the sitting, negative infinity if it is not allowed
 */
record Entry(String text, double response) {}
