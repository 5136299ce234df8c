"""Say how a figure was read: the words that stand beside it wherever it is shown.

In:  nothing.   Out: words.
Frame: none.
"""

from __future__ import annotations

READ = "read in the source"
SECOND_HAND = "second-hand"
COMMON = "common practice, no published source"
TYPED = "typed by the user"
IN_JOB = "in the job, typed or default"
"""For a key with a default value, which holds where none is typed."""
NOT_READ = "not read"
"""Nobody has read a figure for it yet."""
