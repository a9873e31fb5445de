"""A cage motor and a slip-ring motor that come apart, part by part."""
