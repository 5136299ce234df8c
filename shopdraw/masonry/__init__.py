"""What is built: faces, coursing, bond and pieces. Pure; never draws."""
