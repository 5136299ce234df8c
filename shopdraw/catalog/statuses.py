"""How the text of a figure was read: the words that stand beside it wherever it is.

In:  nothing.   Out: words.
Frame: none.
"""

from __future__ import annotations

READ = "read in the source"
SECOND_HAND = "second-hand"
COMMON = "common practice, no published source"
TYPED = "typed by the user"
IN_JOB = "in the job, typed or usual"
"""Of a key that has a usual value, which stands where none is typed."""
NOT_READ = "not read"
"""There is no figure of it yet."""
