"""What several views share: units, strings, heights, stamps, figures."""
