"""model/equipment/relations"""
