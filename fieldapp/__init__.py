"""Site record for bridge erection with glued segments.

Plan, phone, ledger and paper of one site. The package computes and records;
it never approves: release belongs to the people the plan names.
"""

__version__ = "0.4.0"
