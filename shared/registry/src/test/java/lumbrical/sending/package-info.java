/** Small invented clinics, and what would be sent of them. Start at {@link lumbrical.sending.InventedClinic}. */
@NullMarked
package lumbrical.sending;

import org.jspecify.annotations.NullMarked;
