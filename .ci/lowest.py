"""Write the lowest version that each dependency may have, as constraints for pip."""

import re
import sys
import tomllib
from pathlib import Path

project = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["project"]
for wanted in project["dependencies"]:
    bound = re.fullmatch(r"([\w.-]+)>=([\d.]+)(,<[\d.]+)?", wanted)
    if bound is None:
        sys.exit(f"{wanted}: a dependency needs a lowest version, as in name>=1.2")
    sys.stdout.write(f"{bound[1]}=={bound[2]}\n")
