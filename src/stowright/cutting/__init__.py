"""Parts onto sheets: layouts as trees of cuts, checked, ordered, bounded."""

from stowright.cutting.contract import cutting_to_dict
from stowright.cutting.intake import why_not
from stowright.cutting.planning import check_plan, lay_out

__all__ = ["check_plan", "cutting_to_dict", "lay_out", "why_not"]
